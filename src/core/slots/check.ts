/**
 * The judge of every plan: what it breaks, and its objective worked out anew. Written from the definition in
 * docs/slots.md and from nothing that makes plans, so that a mistake there cannot hide here.
 */
import type { Slot } from "./instance";
import { type Coat, changeoverOf, type Person, type Piece, type SlotProblem, type Span } from "./problem";

export const violationCodes = [
  "FORMAT",
  "UNKNOWN_ID",
  "MISSING_COAT",
  "DUPLICATE_COAT",
  "GRAIN",
  "NOW",
  "READY",
  "HORIZON",
  "BOOTH_NOT_ALLOWED",
  "BOOTH_CLOSED",
  "BOOTH_OVERLAP",
  "CHANGEOVER",
  "SKILL",
  "PERSON_AWAY",
  "PERSON_OVERLAP",
  "MIN_LAG",
  "MAX_LAG",
  "MASKING",
  "PIECE_OVERLAP",
  "RACK",
  "VOC",
  "LOCK",
] as const;
export type ViolationCode = (typeof violationCodes)[number];
export type Violation = { code: ViolationCode; ids: string[]; why: string };

/** In grains; levels in the order in which they count. */
export type Objective = { tardiness: number; handling: number; makespan: number };
export type Verdict = { violations: Violation[]; objective: Objective | null };

/** Negative when the first is better. */
export const compareObjectives = (one: Objective, other: Objective): number =>
  one.tardiness - other.tardiness || one.handling - other.handling || one.makespan - other.makespan;

type Placed = Slot & { of: Coat; end: number; free: number; setup: number; opening: Span | undefined; worker: Person };
type Report = (code: ViolationCode, ids: string[], why: string) => void;

const holding = (spans: Span[], from: number, to: number): Span | undefined =>
  spans.find((span) => span.from <= from && to <= span.to);

function readSlots(problem: SlotProblem, slots: readonly Slot[], report: Report): Map<string, Placed> {
  const placed = new Map<string, Placed>();
  for (const slot of slots) {
    const of = problem.coatById.get(slot.coat);
    const booth = problem.boothById.get(slot.booth);
    const worker = problem.personById.get(slot.person);
    if (!of) report("UNKNOWN_ID", [String(slot.coat)], "There is no such coat.");
    else if (placed.has(slot.coat)) report("DUPLICATE_COAT", [slot.coat], "The coat has two slots.");
    else if (!Number.isInteger(slot.start)) report("GRAIN", [slot.coat], `The start ${slot.start} is no whole grain.`);
    else if (!booth) report("UNKNOWN_ID", [slot.coat, String(slot.booth)], "There is no such booth.");
    else if (!worker) report("UNKNOWN_ID", [slot.coat, String(slot.person)], "There is no such person.");
    else {
      const [end, free] = [slot.start + of.work, slot.start + of.length];
      const opening = holding(booth.openings, slot.start, free);
      placed.set(slot.coat, { ...slot, of, end, free, setup: 0, opening, worker });
    }
  }
  for (const { id } of problem.coats) if (!placed.has(id)) report("MISSING_COAT", [id], "The coat has no slot.");
  return placed;
}

function checkAlone({ instance, horizon }: SlotProblem, slot: Placed, report: Report) {
  const { of, start, free } = slot;
  const { lock, piece } = of;
  const now = instance.now ?? 0;
  if (lock?.booth && lock.booth.id !== slot.booth) report("LOCK", [of.id], `It is locked in ${lock.booth.id}.`);
  if (lock?.person && lock.person.id !== slot.person) report("LOCK", [of.id], `It is locked with ${lock.person.id}.`);
  if (lock?.start !== undefined && lock.start !== start) report("LOCK", [of.id], `It is locked at ${lock.start}.`);
  if (!lock && start < now) report("NOW", [of.id], `It starts at ${start}, before now (${now}).`);
  if (start < piece.ready) report("READY", [of.id], `It starts at ${start}; the piece is ready at ${piece.ready}.`);
  if (start < 0 || free > horizon) report("HORIZON", [of.id], `${start} to ${free} lies outside of 0 to ${horizon}.`);
  const lines = instance.pieces[piece.index];
  const line = lines?.surfaces.flatMap(({ coats }) => coats).find(({ id }) => id === of.id);
  const allowed = line?.booths ?? lines?.booths;
  if (allowed && !allowed.includes(slot.booth))
    report("BOOTH_NOT_ALLOWED", [of.id, slot.booth], `It may be sprayed in ${allowed.join(", ")} only.`);
  if (!slot.opening)
    report("BOOTH_CLOSED", [of.id, slot.booth], `${start} to ${free} lies in no opening of the booth.`);
  if (of.skill && !slot.worker.skills.has(of.skill))
    report("SKILL", [of.id, slot.person], `${slot.person} lacks the skill ${of.skill}.`);
}

function checkBooth(problem: SlotProblem, sequence: Placed[], report: Report) {
  let before: Placed | undefined;
  for (const slot of sequence) {
    const isSameOpening = before?.opening !== undefined && before.opening === slot.opening;
    slot.setup = changeoverOf(problem, isSameOpening && before ? before.of.product : null, slot.of.product);
    if (before && before.free > slot.start)
      report("BOOTH_OVERLAP", [before.coat, slot.coat], `${slot.booth} is taken until ${before.free}.`);
    else if (before && isSameOpening && slot.start - before.free < slot.setup)
      report("CHANGEOVER", [before.coat, slot.coat], `${slot.setup} between, ${slot.start - before.free} left.`);
    else if (!isSameOpening && slot.opening && slot.start - slot.setup < slot.opening.from)
      report("CHANGEOVER", [slot.coat], `${slot.setup} are needed after the opening at ${slot.opening.from}.`);
    before = slot;
  }
}

function checkPerson(person: Person, sequence: Placed[], report: Report) {
  let last: Placed | undefined;
  for (const slot of sequence) {
    const from = slot.start - slot.setup;
    if (!holding(person.shifts, from, slot.end))
      report("PERSON_AWAY", [slot.coat, person.id], `${person.id} is not there all of ${from} to ${slot.end}.`);
    if (last && from < last.end)
      report("PERSON_OVERLAP", [last.coat, slot.coat], `${person.id} is busy until ${last.end}, needed from ${from}.`);
    if (!last || slot.end > last.end) last = slot;
  }
}

/** Lags and windows on each surface, masking between them; returns the grains of sanding. */
function checkLags(placed: Map<string, Placed>, report: Report): number {
  let sanding = 0;
  for (const slot of placed.values()) {
    for (const { coat, lag } of slot.of.waitsFor) {
      const earlier = placed.get(coat.id);
      if (!earlier || slot.start - earlier.end >= lag) continue;
      const code = coat === slot.of.previous ? "MIN_LAG" : "MASKING";
      report(code, [coat.id, slot.coat], `It waits ${slot.start - earlier.end} and must wait ${lag}.`);
    }
    const previous = slot.of.previous && placed.get(slot.of.previous.id);
    if (!previous || slot.start - previous.end <= slot.of.maxLag) continue;
    if (slot.of.isHard)
      report("MAX_LAG", [previous.coat, slot.coat], `It waits ${slot.start - previous.end} of ${slot.of.maxLag}.`);
    else sanding += slot.of.sandTime;
  }
  return sanding;
}

type Stay = Span & { piece: Piece };

function checkRack(capacity: number, stays: Stay[], report: Report) {
  const events = stays.flatMap(({ piece, from, to }) => [
    { at: from, area: piece.rackArea },
    { at: to, area: -piece.rackArea },
  ]);
  events.sort((one, other) => one.at - other.at || one.area - other.area);
  let used = 0;
  for (const { at, area } of events) {
    used += area;
    if (area <= 0 || used <= capacity) continue;
    const here = stays.filter(({ from, to }) => from <= at && at < to).map(({ piece }) => piece.id);
    report("RACK", here, `More than ${capacity} lies on the rack at ${at}.`);
  }
}

function checkVoc({ dailyVoc, dayLength }: SlotProblem, placed: Map<string, Placed>, report: Report) {
  const gramsByDay = new Map<number, number>();
  for (const { start, of } of placed.values()) {
    const day = Math.floor(start / dayLength);
    gramsByDay.set(day, (gramsByDay.get(day) ?? 0) + of.voc);
  }
  for (const [day, grams] of gramsByDay)
    if (grams > dailyVoc) report("VOC", [`day ${day}`], `${grams} g of ${dailyVoc} g.`);
}

const grouped = (placed: Map<string, Placed>, key: "booth" | "person"): Map<string, Placed[]> => {
  const groups = new Map<string, Placed[]>();
  for (const slot of placed.values()) {
    const group = groups.get(slot[key]);
    if (group) group.push(slot);
    else groups.set(slot[key], [slot]);
  }
  return groups;
};

/** All that an allocation breaks; its objective when every coat has a slot. */
export function checkAllocation(problem: SlotProblem, slots: unknown): Verdict {
  const violations: Violation[] = [];
  const report: Report = (code, ids, why) => violations.push({ code, ids, why });
  if (!Array.isArray(slots) || slots.some((slot) => typeof slot !== "object" || slot === null)) {
    report("FORMAT", [], "The allocation is no list of slots.");
    return { violations, objective: null };
  }
  const placed = readSlots(problem, slots as Slot[], report);
  for (const slot of placed.values()) checkAlone(problem, slot, report);
  for (const sequence of grouped(placed, "booth").values())
    checkBooth(
      problem,
      sequence.sort((one, other) => one.start - other.start || one.free - other.free),
      report,
    );
  const handling = [...placed.values()].reduce((sum, { setup }) => sum + setup, 0);
  for (const sequence of grouped(placed, "person").values()) {
    sequence.sort((one, other) => one.start - one.setup - (other.start - other.setup) || one.end - other.end);
    checkPerson((sequence[0] as Placed).worker, sequence, report);
  }
  const sanding = checkLags(placed, report);
  const objective = { tardiness: 0, handling: handling + sanding, makespan: 0 };
  const stays: Stay[] = [];
  for (const piece of problem.pieces) {
    const own = piece.coats.flatMap((coat) => placed.get(coat.id) ?? []).sort((one, other) => one.start - other.start);
    for (const [index, slot] of own.entries()) {
      const later = own[index + 1];
      if (later && slot.free > later.start)
        report("PIECE_OVERLAP", [slot.coat, later.coat], `${piece.id} lies in one place until ${slot.free}.`);
    }
    if (own.length < piece.coats.length) continue;
    const ends = piece.surfaces.map(({ coats }) => (placed.get((coats.at(-1) as Coat).id) as Placed).end);
    const release = Math.max(...piece.surfaces.map(({ cure }, index) => (ends[index] as number) + cure));
    objective.tardiness += piece.weight * Math.max(0, release - piece.due);
    objective.makespan = Math.max(objective.makespan, release);
    const to = Math.max(...piece.surfaces.map(({ handle }, index) => (ends[index] as number) + handle));
    stays.push({ piece, from: (own[0] as Placed).start, to });
  }
  checkRack(problem.rackCapacity, stays, report);
  checkVoc(problem, placed, report);
  return { violations, objective: placed.size === problem.coats.length ? objective : null };
}
