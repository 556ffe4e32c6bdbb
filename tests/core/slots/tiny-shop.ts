/** Random shops, small enough to try every plan or lively enough to break a rule. */
import fc from "fast-check";
import { checkAllocation, compareObjectives, type Objective } from "~/core/slots/check";
import type { Slot, SlotInstance } from "~/core/slots/instance";
import type { Coat, SlotProblem } from "~/core/slots/problem";

type Size = {
  dayLength: number;
  days: number;
  pieces: [number, number];
  surfaces: number;
  coats: number;
  work: number;
  lag: number;
  window: [number, number];
};

/** Two openings of a few grains and at most three coats: every plan can be tried. */
export const tiny: Size = {
  dayLength: 12,
  days: 2,
  pieces: [1, 2],
  surfaces: 2,
  coats: 2,
  work: 2,
  lag: 4,
  window: [0, 8],
};
/** A week with clashes of everything. */
export const lively: Size = {
  dayLength: 60,
  days: 12,
  pieces: [2, 7],
  surfaces: 2,
  coats: 3,
  work: 6,
  lag: 20,
  window: [40, 120],
};

const products = ["WATER", "LACQUER", "STAIN"];
const skills = ["water", "2k"];

export function shops(size: Size): fc.Arbitrary<SlotInstance> {
  const { dayLength, days, work, lag } = size;
  const horizon = dayLength * days;
  const grains = (most: number, least = 0) => fc.integer({ min: least, max: most });
  // openings with lunch breaks, days of other lengths (a clock change) and now and then a day off
  const calendar = fc
    .array(
      fc.record({
        from: grains(3),
        length: grains(Math.ceil(dayLength * 0.7), 3),
        pause: fc.boolean(),
        off: grains(7),
      }),
      {
        minLength: days,
        maxLength: days,
      },
    )
    .map((lines) =>
      lines.flatMap(({ from, length, pause, off }, day): [number, number][] => {
        const begin = day * dayLength + from;
        const end = Math.min(begin + length, (day + 1) * dayLength);
        const middle = begin + Math.floor((end - begin) / 2);
        if (off === 0) return [];
        return pause && end - begin > 6
          ? [
              [begin, middle],
              [middle + 1, end],
            ]
          : [[begin, end]];
      }),
    );
  const coat = fc.record({
    product: fc.constantFrom(...products),
    work: grains(work, 1),
    flash: grains(2),
    skill: fc.constantFrom(null, null, null, null, null, null, null, ...skills),
    minLag: grains(lag),
    window: fc.option(grains(size.window[1], size.window[0]), { freq: 2 }),
    overMax: fc.constantFrom("hard" as const, "sand" as const),
    sandTime: grains(4),
    voc: grains(20),
  });
  const surface = fc.record({
    cure: grains(dayLength),
    handle: fc.option(grains(dayLength)),
    coats: fc.array(coat, { minLength: 1, maxLength: size.coats }),
  });
  const piece = fc.record({
    ready: grains(Math.floor(horizon / 3)),
    due: grains(horizon),
    weight: grains(4),
    rackArea: grains(10),
    booth: fc.constantFrom(null, null, null, "B1"),
    lag: grains(4),
    surfaces: fc.array(surface, { minLength: 1, maxLength: size.surfaces }),
    masked: fc.boolean(),
  });
  return fc
    .record({
      booths: fc.array(calendar, { minLength: 1, maxLength: 2 }),
      people: fc.array(fc.record({ hours: calendar, skills: fc.subarray(skills) }), { minLength: 1, maxLength: 2 }),
      changeovers: fc.array(grains(3), { minLength: 12, maxLength: 12 }),
      rack: fc.option(grains(24, 10), { freq: 2 }),
      voc: fc.option(grains(60, 20), { freq: 2 }),
      pieces: fc.array(piece, { minLength: size.pieces[0], maxLength: size.pieces[1] }),
      lockAt: grains(horizon),
      isLocked: grains(3),
      now: grains(3),
    })
    .map(
      ({ booths, people, changeovers, rack, voc, pieces, lockAt, isLocked, now }): SlotInstance => ({
        format: "spray-slots/1",
        name: "random",
        grainMinutes: 5,
        dayLength,
        now,
        horizon,
        booths: booths.map((open, index) => ({ id: `B${index + 1}`, open })),
        people: people.map(({ hours, skills: known }, index) => ({
          id: `P${index + 1}`,
          skills: known,
          available: hours,
        })),
        products: products.map((id) => ({ id })),
        changeover: {
          fromClean: Object.fromEntries(products.map((id, index) => [id, changeovers[index] as number])),
          between: Object.fromEntries(
            products.map((id, row) => [
              id,
              Object.fromEntries(
                products.map((other, column) => [
                  other,
                  row === column ? 0 : (changeovers[3 + 3 * row + column] as number),
                ]),
              ),
            ]),
          ),
        },
        rack: rack === null ? null : { capacity: rack },
        voc: voc === null ? null : { dailyLimit: voc },
        pieces: pieces.map((line, number) => ({
          id: `p${number + 1}`,
          ready: line.ready,
          due: line.due,
          weight: line.weight,
          rackArea: line.rackArea,
          ...(line.booth && { booths: [line.booth] }),
          surfaces: line.surfaces.map(({ cure, handle, coats }, side) => ({
            id: `f${side}`,
            cure,
            ...(handle !== null && { handle }),
            coats: coats.map(({ window, minLag, ...rest }, index) => ({
              ...rest,
              id: `p${number + 1}.${side}.${index + 1}`,
              minLag,
              ...(window !== null && { maxLag: minLag + window }),
            })),
          })),
          ...(line.masked && line.surfaces.length > 1 && { masking: [{ before: "f0", after: "f1", lag: line.lag }] }),
        })),
        locks:
          isLocked === 0
            ? [{ coat: "p1.0.1", start: lockAt }]
            : isLocked === 1
              ? [{ coat: "p1.0.1", booth: "B1" }]
              : [],
      }),
    );
}

/** The best of all plans by trying every one; null when there is none, undefined when there are too many to try. */
export function bestOfAll(problem: SlotProblem): { best: Objective | null; tried: number } | undefined {
  const choices = problem.coats.map((coat) => placesOf(problem, coat));
  if (choices.reduce((product, { length }) => product * length, 1) > 2_500) return undefined;
  let best: Objective | null = null;
  let tried = 0;
  const slots: Slot[] = [];
  const visit = (at: number) => {
    if (at < choices.length) {
      for (const slot of choices[at] as Slot[]) {
        slots[at] = slot;
        visit(at + 1);
      }
      return;
    }
    tried++;
    const { violations, objective } = checkAllocation(problem, slots);
    if (!violations.length && objective && (!best || compareObjectives(objective, best) < 0)) best = objective;
  };
  visit(0);
  return { best, tried };
}

/** Every place in which the coat breaks no rule on its own, by the checker. */
function placesOf(problem: SlotProblem, coat: Coat): Slot[] {
  const isOwn = new Set(["NOW", "READY", "HORIZON", "BOOTH_NOT_ALLOWED", "BOOTH_CLOSED", "SKILL", "LOCK"]);
  return problem.booths.flatMap((booth) =>
    problem.people.flatMap((person) =>
      Array.from({ length: problem.horizon }, (_, start) => ({
        coat: coat.id,
        booth: booth.id,
        person: person.id,
        start,
      })).filter((slot) => !checkAllocation(problem, [slot]).violations.some(({ code }) => isOwn.has(code))),
    ),
  );
}
