import { describe, expect, test } from "vitest";
import { checkAllocation } from "~/core/slots/check";
import { type Disruption, disrupt, without } from "~/core/slots/disruption";
import type { Slot, SlotInstance } from "~/core/slots/instance";
import { repair } from "~/core/slots/repair";
import { instanceOf, problemOf, solutionOf } from "./instance-files";

/** Disrupts and repairs at the moment when `now` begins: what began before is running or done. */
function mended(instance: SlotInstance, slots: Slot[], event: Disruption, now = 0) {
  const disrupted = disrupt(instance, slots, event);
  if (!disrupted.ok) throw new Error(disrupted.refusal.why);
  const { notBefore } = disrupted.value;
  const problem = problemOf(disrupted.value.instance);
  const running = new Set(slots.filter(({ start }) => start < now).map(({ coat }) => coat));
  const found = repair({ problem, slots, notBefore, running });
  return { problem, running, notBefore, found };
}

const weeks = ["s04", "s08", "s12", "s13", "m02", "m05"].map((name) => ({
  name,
  instance: instanceOf(name),
  slots: solutionOf(name),
}));
const twoHours = 24;

/** Every slot of a few weeks slips by two hours, as it is about to begin. */
function everySlip() {
  return weeks.flatMap(({ name, instance, slots }) =>
    slots.map((slot) => ({
      name,
      instance,
      slots,
      slot,
      ...mended(instance, slots, { kind: "slot-slips", coat: slot.coat, byGrains: twoHours }, slot.start),
    })),
  );
}
const slips = everySlip();

test("a repaired plan breaks no rule, and the slipped slot begins no earlier than it can", () => {
  let repaired = 0;
  for (const { problem, notBefore, found } of slips) {
    if (!found.ok) continue;
    repaired++;
    const { violations, objective } = checkAllocation(problem, found.value.slots);
    expect(violations).toEqual([]);
    expect(objective).toEqual(found.value.objective);
    for (const { coat, start } of found.value.slots) expect(start).toBeGreaterThanOrEqual(notBefore.get(coat) ?? 0);
  }
  expect(repaired / slips.length).toBeGreaterThan(0.75);
});

test("what is locked or running never moves, and every moved slot is shown with its before and after", () => {
  for (const { problem, running, slots, found } of slips) {
    if (!found.ok) continue;
    const shown = new Map(found.value.moved.map(({ coat, before, after }) => [coat, { before, after }]));
    for (const before of slots) {
      const after = found.value.slots.find(({ coat }) => coat === before.coat);
      const isFixed = running.has(before.coat) || problem.coatById.get(before.coat)?.lock?.start !== undefined;
      if (isFixed) expect(after).toEqual(before);
      if (shown.has(before.coat)) expect(shown.get(before.coat)).toEqual({ before, after });
      else expect(after).toEqual(before);
    }
  }
});

test("half of all two-hour slips move no more than four slots", () => {
  const counts = slips
    .flatMap(({ found }) => (found.ok ? [found.value.moved.length] : []))
    .sort((one, other) => one - other);
  expect(counts[Math.floor(counts.length / 2)]).toBeLessThanOrEqual(4);
});

test("a slip of nothing moves nothing", () => {
  for (const { instance, slots } of weeks)
    for (const { coat } of slots) {
      const { found } = mended(instance, slots, { kind: "slot-slips", coat, byGrains: 0 });
      expect(found).toMatchObject({ ok: true, value: { moved: [] } });
    }
});

/** Keeps order, booths and people and pushes everything on grain by grain until the checker is content. */
function pushedTardiness(instance: SlotInstance, slots: Slot[], slipped: string, from: number): number | null {
  const problem = problemOf(instance);
  const pushed: Slot[] = [];
  const isOpen = new Set(["MISSING_COAT"]);
  const ordered = [...slots].sort((one, other) => one.start - other.start);
  for (const slot of ordered) {
    const last = pushed.filter(({ booth }) => booth === slot.booth).at(-1);
    let start = Math.max(slot.start + (slot.coat === slipped ? twoHours : 0), (last?.start ?? -1) + 1);
    if (slot.start < from) start = slot.start;
    const latest = start + 400;
    for (; start < latest; start++) {
      const { violations } = checkAllocation(problem, [...pushed, { ...slot, start }]);
      if (violations.every(({ code }) => isOpen.has(code))) break;
    }
    if (start >= latest) return null;
    pushed.push({ ...slot, start });
  }
  return checkAllocation(problem, pushed).objective?.tardiness ?? null;
}

test("no promise suffers more than if everything were pushed on in its order", () => {
  let compared = 0;
  for (const { name, instance, slots, slot, found } of slips) {
    if (name !== "s04") continue;
    const pushed = pushedTardiness(instance, slots, slot.coat, slot.start);
    if (pushed === null) continue;
    compared++;
    expect(found.ok && found.value.objective.tardiness, slot.coat).toBeLessThanOrEqual(pushed);
  }
  expect(compared).toBeGreaterThan(5);
});

describe("in a week with two booths", () => {
  const { instance, slots } = weeks[4] as (typeof weeks)[number];
  const slotOf = (list: Slot[], id: string) => list.find(({ coat }) => coat === id);

  test("rain that closes a booth moves what was in it, and little else", () => {
    const [first] = [...slots].sort((one, other) => one.start - other.start);
    const { booth, start } = first as Slot;
    const [from, to] = [start - 2, start + 40];
    const hit = slots.filter((slot) => slot.booth === booth && slot.start < to && slot.start + 8 > from);
    const { problem, found } = mended(instance, slots, { kind: "booth-closed", booth, from, to });
    if (!found.ok) throw new Error(found.refusal.why);
    expect(checkAllocation(problem, found.value.slots).violations).toEqual([]);
    const moved = new Set(found.value.moved.map(({ coat }) => coat));
    expect(hit.some(({ coat }) => moved.has(coat))).toBe(true);
    expect(moved.size).toBeLessThan(slots.length / 2);
  });

  test("a person who is ill sprays nothing that day", () => {
    const { person, start } = slots[0] as Slot;
    const [from, to] = [start - 5, start + 60];
    const { problem, found } = mended(instance, slots, { kind: "person-away", person, from, to });
    if (!found.ok) throw new Error(found.refusal.why);
    expect(checkAllocation(problem, found.value.slots).violations).toEqual([]);
    expect(found.value.slots.filter((slot) => slot.person === person && slot.start >= from && slot.start < to)).toEqual(
      [],
    );
  });

  test("a coat that must be redone gets a slot after it, before the next coat", () => {
    const line = instance.pieces[0]?.surfaces[0]?.coats[0];
    const [coat, redoId] = [line?.id ?? "", "again"];
    const { problem, found } = mended(instance, slots, { kind: "coat-redone", coat, redoId, minLag: 20 });
    if (!found.ok) throw new Error(found.refusal.why);
    expect(checkAllocation(problem, found.value.slots).violations).toEqual([]);
    const redone = slotOf(found.value.slots, redoId);
    expect(redone?.start).toBeGreaterThanOrEqual((slotOf(found.value.slots, coat)?.start ?? 0) + 20);
    expect(found.value.moved.find((move) => move.coat === redoId)?.before).toBeNull();
  });

  test("a cold night that lengthens a lag moves the coat behind it", () => {
    const second = instance.pieces.flatMap(({ surfaces }) => surfaces).find(({ coats }) => coats.length > 1)?.coats[1];
    const coat = second?.id ?? "";
    const { problem, found } = mended(instance, slots, { kind: "lag-longer", coat, minLag: 200 });
    if (!found.ok) throw new Error(found.refusal.why);
    expect(checkAllocation(problem, found.value.slots).violations).toEqual([]);
    expect(found.value.moved.map((move) => move.coat)).toContain(coat);
  });

  test("a slot that the plan does not know is refused", () => {
    expect(disrupt(instance, slots, { kind: "slot-slips", coat: "ghost", byGrains: 1 })).toMatchObject({
      ok: false,
      refusal: { ids: ["ghost"] },
    });
  });
});

test("a lock that the calendar has left is named, not moved", () => {
  const { instance, slots } = weeks[3] as (typeof weeks)[number];
  const [lock] = instance.locks ?? [];
  const { coat, booth } = slots.find((slot) => slot.coat === lock?.coat) as Slot;
  const { found } = mended(instance, slots, { kind: "booth-closed", booth, from: 0, to: 1000 });
  expect(found).toMatchObject({ ok: false, refusal: { ids: expect.arrayContaining([coat]) } });
});

test("a stretch is cut out of opening hours at both ends", () => {
  expect(
    without(
      [
        [0, 10],
        [20, 30],
      ],
      5,
      25,
    ),
  ).toEqual([
    [0, 5],
    [25, 30],
  ]);
  expect(without([[0, 10]], 3, 4)).toEqual([
    [0, 3],
    [4, 10],
  ]);
  expect(without([[0, 10]], 10, 12)).toEqual([[0, 10]]);
});
