import { expect, test } from "vitest";
import { checkAllocation, type ViolationCode, violationCodes } from "~/core/slots/check";
import type { CoatLine, Slot } from "~/core/slots/instance";
import { changeoverOf } from "~/core/slots/problem";
import { instanceOf, problemOf, type StoredInstance, solutionOf, solvedNames } from "./instance-files";

type Change = (instance: StoredInstance, slots: Slot[]) => void;
/** On its edge a rule is kept; one grain past it, it is broken. */
type Mutant = { code: ViolationCode; edge?: Change; over: Change; of?: string };

const coatLine = (instance: StoredInstance, id: string): CoatLine =>
  instance.pieces
    .flatMap(({ surfaces }) => surfaces.flatMap(({ coats }) => coats))
    .find((coat) => coat.id === id) as CoatLine;
const slotIn = (slots: Slot[], id: string): Slot => slots.find(({ coat }) => coat === id) as Slot;

function mutantsOf(name: string): Mutant[] {
  const [instance, slots] = [instanceOf(name), solutionOf(name)];
  const problem = problemOf(instance);
  const startOf = (id: string) => slotIn(slots, id).start;
  const unlocked = slots.filter(({ coat }) => !problem.coatById.get(coat)?.lock);
  const firstStart = Math.min(...unlocked.map(({ start }) => start));
  const lastFree = Math.max(...problem.coats.map(({ id, length }) => startOf(id) + length));
  const perSlot = slots.flatMap((slot): Mutant[] => {
    const coat = problem.coatById.get(slot.coat);
    if (!coat) throw new Error(slot.coat);
    const { booth, person, start } = slot;
    const free = start + coat.length;
    const opening = problem.boothById.get(booth)?.openings.find(({ from, to }) => from <= start && free <= to);
    const inOpening = slots
      .filter(
        (other) => other.booth === booth && other.start >= (opening?.from ?? 0) && other.start < (opening?.to ?? 0),
      )
      .sort((one, other) => one.start - other.start);
    const at = inOpening.findIndex((other) => other.coat === coat.id);
    const [before, after] = [inOpening[at - 1], inOpening[at + 1]];
    const productBefore = before ? (problem.coatById.get(before.coat)?.product ?? null) : null;
    const setup = changeoverOf(problem, productBefore, coat.product);
    const setStart =
      (value: number): Change =>
      (_, all) => {
        slotIn(all, coat.id).start = value;
      };
    const lock =
      (value: number): Change =>
      (changed) => {
        const others = (changed.locks ?? []).filter((line) => line.coat !== coat.id);
        changed.locks = [...others, { coat: coat.id, booth, person, start: value }];
      };
    const openUntil =
      (to: number): Change =>
      (changed) => {
        for (const line of changed.booths)
          if (line.id === booth) line.open = line.open.map(([from, end]) => [from, from === opening?.from ? to : end]);
      };
    const awayFrom =
      (grain: number): Change =>
      (changed) => {
        for (const line of changed.people)
          if (line.id === person)
            line.available = line.available.map(([from, to]) =>
              from <= start && start < to ? [from, grain] : [from, to],
            );
      };
    const thereFrom =
      (grain: number): Change =>
      (changed) => {
        for (const line of changed.people)
          if (line.id === person)
            line.available = line.available.map(([from, to]) =>
              from <= start && start < to ? [grain, to] : [from, to],
            );
      };
    const mutants: Mutant[] = [
      { code: "MISSING_COAT", over: (_, all) => all.splice(all.indexOf(slotIn(all, coat.id)), 1) },
      { code: "DUPLICATE_COAT", over: (_, all) => all.push({ ...slot }) },
      { code: "UNKNOWN_ID", over: (_, all) => Object.assign(slotIn(all, coat.id), { booth: "nowhere" }) },
      { code: "UNKNOWN_ID", over: (_, all) => Object.assign(slotIn(all, coat.id), { person: "nobody" }) },
      { code: "UNKNOWN_ID", over: (_, all) => all.push({ coat: "ghost", booth, person, start: 0 }) },
      { code: "GRAIN", over: setStart(start + 0.5) },
      { code: "LOCK", edge: lock(start), over: lock(start + 1) },
      {
        code: "BOOTH_NOT_ALLOWED",
        edge: (changed) => Object.assign(coatLine(changed, coat.id), { booths: [booth] }),
        over: (changed) => {
          changed.booths.push({ id: "other", open: [] });
          Object.assign(coatLine(changed, coat.id), { booths: ["other"] });
        },
      },
    ];
    if (!coat.lock && start === firstStart)
      mutants.push({
        code: "NOW",
        edge: (changed) => Object.assign(changed, { now: start }),
        over: (changed) => Object.assign(changed, { now: start + 1 }),
      });
    const pieceStart = Math.min(...coat.piece.coats.map(({ id }) => startOf(id)));
    const readyAt =
      (grain: number): Change =>
      (changed) => {
        for (const piece of changed.pieces) if (piece.id === coat.piece.id) piece.ready = grain;
      };
    if (start === pieceStart) mutants.push({ code: "READY", edge: readyAt(start), over: readyAt(start + 1) });
    if (free === lastFree)
      mutants.push({
        code: "HORIZON",
        edge: (changed) => Object.assign(changed, { horizon: free }),
        over: (changed) => Object.assign(changed, { horizon: free - 1 }),
      });
    if (!after) mutants.push({ code: "BOOTH_CLOSED", edge: openUntil(free), over: openUntil(free - 1) });
    else {
      const product = coatLine(instance, coat.id).product;
      const productAfter = coatLine(instance, after.coat).product;
      const gap = after.start - free;
      mutants.push({
        code: "BOOTH_OVERLAP",
        over: (_, all) => Object.assign(slotIn(all, after.coat), { start: free - 1 }),
      });
      if (product !== productAfter)
        mutants.push({
          code: "CHANGEOVER",
          of: after.coat,
          edge: (changed) => Object.assign(changed.changeover.between[product] ?? {}, { [productAfter]: gap }),
          over: (changed) => Object.assign(changed.changeover.between[product] ?? {}, { [productAfter]: gap + 1 }),
        });
    }
    if (!before) {
      const room = start - (opening?.from ?? 0);
      const { product } = coatLine(instance, coat.id);
      const clean =
        (grains: number): Change =>
        (changed) => {
          changed.changeover.fromClean = { ...changed.changeover.fromClean, [product]: grains };
        };
      mutants.push({ code: "CHANGEOVER", of: coat.id, edge: clean(room), over: clean(room + 1) });
    }
    if (coat.skill)
      mutants.push({
        code: "SKILL",
        over: (changed) => {
          for (const line of changed.people)
            if (line.id === person) line.skills = line.skills.filter((skill) => skill !== coat.skill);
        },
      });
    const shift = problem.personById.get(person)?.shifts.find(({ from, to }) => from <= start && start < to);
    const inShift = slots.filter(
      (other) => other.person === person && other.start >= (shift?.from ?? 0) && other.start < (shift?.to ?? 0),
    );
    if (inShift.every((other) => other.start <= start))
      mutants.push({ code: "PERSON_AWAY", edge: awayFrom(start + coat.work), over: awayFrom(start + coat.work - 1) });
    if (inShift.every((other) => other.start >= start))
      mutants.push({ code: "PERSON_AWAY", edge: thereFrom(start - setup), over: thereFrom(start - setup + 1) });
    const together = slots.find((other) => {
      const work = problem.coatById.get(other.coat)?.work ?? 0;
      return other.person !== person && other.start < start + coat.work && start < other.start + work;
    });
    if (together)
      mutants.push({ code: "PERSON_OVERLAP", over: (_, all) => Object.assign(slotIn(all, together.coat), { person }) });
    if (coat.previous) {
      const gap = start - startOf(coat.previous.id) - coat.previous.work;
      const window =
        (line: Partial<CoatLine>): Change =>
        (changed) =>
          Object.assign(coatLine(changed, coat.id), line);
      mutants.push({
        code: "MIN_LAG",
        edge: window({ minLag: gap, maxLag: null }),
        over: window({ minLag: gap + 1, maxLag: null }),
      });
      mutants.push({
        code: "MAX_LAG",
        edge: window({ minLag: 0, maxLag: gap, overMax: "hard" }),
        over: window({ minLag: 0, maxLag: gap - 1, overMax: "hard" }),
      });
      mutants.push({ code: "PIECE_OVERLAP", over: setStart(startOf(coat.previous.id) + 1) });
    }
    for (const { coat: earlier } of coat.waitsFor) {
      if (earlier === coat.previous) continue;
      const gap = start - startOf(earlier.id) - earlier.work;
      const masking =
        (lag: number): Change =>
        (changed) => {
          for (const piece of changed.pieces)
            for (const line of piece.masking ?? [])
              if (piece.id === coat.piece.id && line.after === coat.surface.id) line.lag = lag;
        };
      mutants.push({ code: "MASKING", edge: masking(gap), over: masking(gap + 1) });
    }
    return mutants;
  });
  const capacity = peakArea(problem.pieces.map((piece) => stayOf(piece)));
  function stayOf(piece: (typeof problem.pieces)[number]) {
    const from = Math.min(...piece.coats.map(({ id }) => startOf(id)));
    const to = Math.max(
      ...piece.surfaces.map(({ coats, handle }) => {
        const last = coats.at(-1);
        return last ? startOf(last.id) + last.work + handle : 0;
      }),
    );
    return { from, to, area: piece.rackArea };
  }
  const grams = new Map<number, number>();
  for (const { id, voc } of problem.coats) {
    const day = Math.floor(startOf(id) / problem.dayLength);
    grams.set(day, (grams.get(day) ?? 0) + voc);
  }
  const most = Math.max(...grams.values());
  return [
    ...perSlot,
    { code: "FORMAT", over: (_, all) => Object.assign(all, { 0: null }) },
    {
      code: "RACK",
      edge: (changed) => Object.assign(changed, { rack: { capacity } }),
      over: (changed) => Object.assign(changed, { rack: { capacity: capacity - 1 } }),
    },
    {
      code: "VOC",
      edge: (changed) => Object.assign(changed, { voc: { dailyLimit: most } }),
      over: (changed) => Object.assign(changed, { voc: { dailyLimit: most - 1 } }),
    },
  ];
}

/** The most area at once, looked for grain by grain. */
function peakArea(stays: { from: number; to: number; area: number }[]): number {
  let peak = 0;
  for (let grain = 0; grain < Math.max(...stays.map(({ to }) => to)); grain++)
    peak = Math.max(
      peak,
      stays.reduce((sum, { from, to, area }) => sum + (from <= grain && grain < to ? area : 0), 0),
    );
  return peak;
}

test.each(solvedNames)("the stored plan of %s breaks no rule and has the stored value", (name) => {
  const instance = instanceOf(name);
  const { violations, objective } = checkAllocation(problemOf(instance), solutionOf(name));
  expect(violations).toEqual([]);
  if (name === "w20") expect(objective?.tardiness).toBe(instance.result.tardiness);
  else {
    const { tardiness, handling, makespan } = instance.result;
    expect(objective).toEqual({ tardiness, handling, makespan });
  }
});

const mutated = ["s03", "s08", "s12", "s13"];

test.each(mutated)("every rule is kept on its edge and broken one grain past it in %s", (name) => {
  for (const { code, edge, over, of } of mutantsOf(name)) {
    const codesAfter = (change: Change): ViolationCode[] => {
      const [instance, slots] = [instanceOf(name), solutionOf(name)];
      change(instance, slots);
      const { violations } = checkAllocation(problemOf(instance), slots);
      // the same change-over elsewhere may have less time than here
      return violations.filter(({ ids }) => of === undefined || ids.at(-1) === of).map((violation) => violation.code);
    };
    if (edge) expect(codesAfter(edge), `${code} on its edge`).not.toContain(code);
    expect(codesAfter(over), `${code} past its edge`).toContain(code);
  }
});

test("these are all the rules that a plan can break", () => {
  const codes = new Set(mutated.flatMap((name) => mutantsOf(name).map(({ code }) => code)));
  expect([...codes].sort()).toEqual([...violationCodes].sort());
});

test("a plan that is no list is told so, and nothing else is claimed of it", () => {
  const { violations, objective } = checkAllocation(problemOf(instanceOf("s01")), { slots: [] });
  expect(violations.map(({ code }) => code)).toEqual(["FORMAT"]);
  expect(objective).toBeNull();
});
