import { describe, expect, test } from "vitest";
import { allocate } from "~/core/slots/allocate";
import { provedInfeasible } from "~/core/slots/infeasible";
import type { SlotInstance } from "~/core/slots/instance";
import { parseProblem } from "~/core/slots/problem";
import { instanceNames, instanceOf, looks, problemOf, solvedNames } from "./instance-files";

const coat = (id: string, line = {}) => ({ id, product: "CLEAR", work: 4, flash: 2, ...line });
const piece = (id: string, coats: ReturnType<typeof coat>[], line = {}) => ({
  id,
  ready: 0,
  due: 50,
  weight: 1,
  surfaces: [{ id: "body", cure: 10, coats }],
  ...line,
});

/** Two days of one booth, ten grains open each, with one person in it throughout. */
function week(pieces: ReturnType<typeof piece>[], line: Partial<SlotInstance> = {}): SlotInstance {
  return {
    format: "spray-slots/1",
    name: "by hand",
    grainMinutes: 30,
    dayLength: 48,
    horizon: 96,
    booths: [
      {
        id: "B1",
        open: [
          [16, 26],
          [64, 74],
        ],
      },
    ],
    people: [
      {
        id: "P1",
        skills: ["2k"],
        available: [
          [10, 40],
          [60, 90],
        ],
      },
    ],
    products: [{ id: "CLEAR" }, { id: "WHITE" }],
    changeover: { between: { CLEAR: { WHITE: 3 } } },
    pieces,
    ...line,
  };
}
const reasonOf = (instance: unknown) => {
  const found = allocate(problemOf(instance), { seed: 1, isTimeUp: looks(5) });
  return found.kind === "infeasible" ? { code: found.code, ids: found.ids } : found.kind;
};

test.each(instanceNames(/^x/))(
  "the impossible week %s is refused with the reason that a person should be told",
  (name) => {
    const instance = instanceOf(name);
    const { code, ids } = instance.result.reason;
    expect(reasonOf(instance)).toEqual({ code, ids });
  },
);

test("a week that can be planned is never proved impossible", () => {
  for (const name of [...solvedNames, "w60", "w200"])
    expect(provedInfeasible(problemOf(instanceOf(name))), name).toBeNull();
});

describe("the smallest conflict that can be proved is named:", () => {
  test.each<[string, SlotInstance, { code: string; ids: string[] }]>([
    [
      "a coat longer than any opening",
      week([piece("p", [coat("a", { work: 9 })])]),
      { code: "COAT_TOO_LONG", ids: ["a"] },
    ],
    [
      "a coat for a booth that is never open",
      week([piece("p", [coat("a", { booths: ["B2"] })])], {
        booths: [
          { id: "B1", open: [[16, 26]] },
          { id: "B2", open: [] },
        ],
      }),
      { code: "COAT_TOO_LONG", ids: ["a"] },
    ],
    [
      "a skill that nobody has",
      week([piece("p", [coat("a", { skill: "gilding" }), coat("b")])]),
      { code: "NO_QUALIFIED_PERSON", ids: ["a"] },
    ],
    [
      "a person without working time",
      week([piece("p", [coat("a")])], { people: [{ id: "P1", skills: [], available: [] }] }),
      { code: "NO_QUALIFIED_PERSON", ids: ["a"] },
    ],
    [
      "a person who is never there while the booth is open",
      week([piece("p", [coat("a")])], {
        people: [
          {
            id: "P1",
            skills: [],
            available: [
              [0, 18],
              [72, 90],
            ],
          },
        ],
      }),
      { code: "NO_QUALIFIED_PERSON", ids: ["a"] },
    ],
    [
      "a window that closes overnight",
      week([piece("p", [coat("a"), coat("b", { minLag: 8, maxLag: 30 })])]),
      { code: "WINDOW_CLOSED", ids: ["b"] },
    ],
    [
      "a piece larger than the rack",
      week([piece("p", [coat("a")], { rackArea: 9 })], { rack: { capacity: 8 } }),
      { code: "RACK_TOO_SMALL", ids: ["p"] },
    ],
    [
      "a coat above the solvent limit",
      week([piece("p", [coat("a", { voc: 90 })])], { voc: { dailyLimit: 80 } }),
      { code: "VOC_OVER_LIMIT", ids: ["a"] },
    ],
    [
      "masking in a circle",
      week([
        piece("p", [], {
          surfaces: [
            { id: "body", cure: 1, coats: [coat("a")] },
            { id: "top", cure: 1, coats: [coat("b")] },
            { id: "door", cure: 1, coats: [coat("c")] },
          ],
          masking: [
            { before: "body", after: "top" },
            { before: "top", after: "body" },
            { before: "top", after: "door" },
          ],
        }),
      ]),
      { code: "MASKING_CYCLE", ids: ["a", "b"] },
    ],
    [
      "a lock on a closed day",
      week([piece("p", [coat("a")])], { locks: [{ coat: "a", start: 40 }] }),
      { code: "LOCK_CONFLICT", ids: ["a"] },
    ],
    [
      "two locks without time to clean the gun between them",
      week([piece("p", [coat("a")]), piece("q", [coat("b", { product: "WHITE", work: 2, flash: 0 })])], {
        locks: [
          { coat: "a", booth: "B1", start: 16 },
          { coat: "b", booth: "B1", start: 23 },
        ],
      }),
      { code: "LOCK_CONFLICT", ids: ["a", "b"] },
    ],
    [
      "a lock that leaves the coat before it no time",
      week([piece("p", [coat("a"), coat("b", { minLag: 4 })])], { locks: [{ coat: "b", start: 18 }] }),
      { code: "LOCK_CONFLICT", ids: ["b"] },
    ],
    [
      "four coats for three places",
      week(["p", "q", "r", "s"].map((id) => piece(id, [coat(`${id}1`, { work: 5, flash: 1 })]))),
      { code: "CAPACITY", ids: ["p1", "q1", "r1", "s1"] },
    ],
  ])("%s", (_, instance, reason) => {
    expect(reasonOf(instance)).toEqual(reason);
  });

  test("two locks with just enough time to clean the gun are no conflict", () => {
    const pieces = [
      piece("p", [coat("a", { work: 3, flash: 1 })]),
      piece("q", [coat("b", { product: "WHITE", work: 2, flash: 0 })]),
    ];
    const locks = [
      { coat: "a", booth: "B1", start: 16 },
      { coat: "b", booth: "B1", start: 23 },
    ];
    expect(reasonOf(week(pieces, { locks }))).toBe("planned");
  });
});

describe("what contradicts itself is refused in words:", () => {
  const wrong = (line: object, changes: Partial<SlotInstance> = {}) =>
    week([piece("p", [coat("a"), coat("b", line)])], changes);
  test.each<[string, unknown, RegExp]>([
    ["a coat without duration", wrong({ work: 0 }), /work/],
    ["a negative lag", wrong({ minLag: -1 }), /minLag/],
    ["a window that closes before it opens", wrong({ minLag: 9, maxLag: 8 }), /closes \(8\) before it opens \(9\)/],
    ["an unknown product", wrong({ product: "TAR" }), /no product TAR/],
    ["a lock of nobody's coat", wrong({}, { locks: [{ coat: "z", start: 1 }] }), /lock names z/],
    [
      "overlapping openings",
      wrong(
        {},
        {
          booths: [
            {
              id: "B1",
              open: [
                [1, 9],
                [5, 12],
              ],
            },
          ],
        },
      ),
      /overlap/,
    ],
    ["a coat that is named twice", wrong({ id: "a" }), /coat a is named twice/],
    ["a person without a calendar", wrong({}, { people: [{ id: "P1", skills: [] }] as never }), /people #1 available/],
    ["no instance at all", [], /instance|format/],
  ])("%s", (_, instance, words) => {
    const parsed = parseProblem(instance);
    expect(parsed.ok).toBe(false);
    if (!parsed.ok) expect(parsed.refusal.why).toMatch(words);
  });

  test("more coats than can be planned at once", () => {
    const pieces = Array.from({ length: 5001 }, (__, index) =>
      piece(`p${index}`, [coat(`a${index}`), coat(`b${index}`)]),
    );
    const parsed = parseProblem(week(pieces));
    expect(parsed.ok).toBe(false);
    if (!parsed.ok) expect(parsed.refusal.why).toMatch(/10002 coats/);
  });

  test("a promise that has passed is late, not refused", () => {
    const found = allocate(problemOf(week([piece("p", [coat("a")], { due: -20 })])), { seed: 1, isTimeUp: looks(2) });
    expect(found).toMatchObject({ kind: "planned", value: { tardiness: 16 + 4 + 10 + 20 } });
  });
});
