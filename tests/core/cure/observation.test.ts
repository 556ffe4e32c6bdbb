import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { roomAir } from "~/core/climate/history";
import { gate } from "~/core/cure/gate";
import { lessonOf } from "~/core/cure/lesson";
import { awaitsConfirmation, testVerdict } from "~/core/cure/observation";
import type { Picture } from "~/core/cure/picture";
import type { Confirmation, HandTest } from "~/core/shop/tables";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  at,
  coat,
  everyTenMinutes,
  finisher,
  handTest,
  helper,
  id,
  loft,
  o2,
  pair,
  pictureOf,
  piece,
  stay,
  surface,
  w1,
} from "./week";

const laidAt = at("10-20 12:00 EDT");
/** Enamel at its reference of 25 °C: it may be handled after 24 hours, by the clock. */
const enamelled = (tests: Partial<HandTest>[] = [], more: Partial<Picture> = {}) => {
  const ours = piece();
  const top = surface("top", ours.id);
  const made = tests.map((each) =>
    handTest({
      subject: { of: "surface", surfaceId: top.id },
      kind: "thumb-twist",
      result: "pass",
      at: laidAt + 12 * hourMs,
      by: helper.id,
      ...each,
    }),
  );
  const picture = pictureOf(
    {
      piece: ours,
      surfaces: [top],
      coats: [coat(top, w1, laidAt)],
      stays: [stay(ours.id, loft, laidAt - dayMs)],
      tests: made,
      ...more,
    },
    everyTenMinutes(loft, laidAt - 7 * dayMs, laidAt + 5 * dayMs, () => 25),
  );
  return { top, picture, tests: made };
};
const carry = { action: "move", carried: "hands" } as const;
const noonAt = laidAt + 12 * hourMs;

const confirmed = (picture: Picture, test: HandTest | undefined, confirmedAt: number): Picture => {
  const yes: Confirmation = {
    id: id(),
    pieceId: picture.piece.id,
    testId: test?.id ?? "",
    by: finisher.id,
    at: confirmedAt,
  };
  return { ...picture, confirmations: [yes] };
};

describe("a helper's passed test before the clock is done", () => {
  test("opens nothing until a partner says that it counts, and then from that moment on", () => {
    const { picture, tests } = enamelled([{}]);
    const yesAt = noonAt + 3 * hourMs;
    expect(gate(picture, carry, yesAt).state).toBe("shut");
    const counted = confirmed(picture, tests[0], yesAt);
    expect(gate(counted, carry, yesAt - 1).state).toBe("shut");
    expect(gate(counted, carry, yesAt)).toMatchObject({ state: "open", evidence: "test", sinceAt: yesAt });
  });

  test("waits for a yes, which a partner's own, a failed one and one that is taken back do not", () => {
    const { picture, tests } = enamelled([{}, { by: finisher.id }, { result: "fail" }, { takenBackAt: noonAt }]);
    expect(tests.map((each) => awaitsConfirmation(picture, each))).toEqual([true, false, false, false]);
    expect(awaitsConfirmation(confirmed(picture, tests[0], noonAt), tests[0] as HandTest)).toBe(false);
    const trusting = { ...picture, shop: { ...picture.shop, helperTestOpens: true } };
    expect(awaitsConfirmation(trusting, tests[0] as HandTest)).toBe(false);
  });

  test("is worth nothing once a later hand has failed, confirmed or not", () => {
    const { picture, tests } = enamelled([{}, { result: "fail", at: noonAt + hourMs }]);
    const counted = confirmed(picture, tests[0], noonAt + 2 * hourMs);
    expect(gate(counted, carry, noonAt + 3 * hourMs).needs).toMatchObject([{ kind: "test-says-no" }]);
  });
});

describe("a failed thumb test", () => {
  const hour = fc.integer({ min: 1, max: 4 * 24 });
  const weaker = fc.constantFrom("fingertip-on-glass" as const, "paper-drop" as const, "recoat-patch" as const);
  const any = fc.constantFrom("thumb-twist" as const, "fingernail" as const, "paper-press" as const);
  const passes = (kinds: typeof weaker | typeof any) =>
    fc.array(fc.record({ kind: kinds, hours: hour, by: fc.constantFrom(finisher.id, helper.id) }), { maxLength: 4 });

  test("keeps a piece from hands and from pressing whatever clock, word, weaker pass or earlier pass says", () => {
    fc.assert(
      fc.property(
        hour,
        hour,
        passes(weaker),
        passes(any),
        fc.option(hour),
        (failed, asked, after, before, wordHour) => {
          const failAt = laidAt + failed * hourMs;
          const { picture } = enamelled(
            [
              { result: "fail", at: failAt },
              ...after.map(({ kind, hours, by }) => ({ kind, by, at: failAt + hours * hourMs })),
              ...before.map(({ kind, hours, by }) => ({ kind, by, at: failAt - hours * hourMs })),
            ],
            {
              words: (["move", "press-together"] as const).flatMap((action) =>
                wordHour === null
                  ? []
                  : [
                      {
                        id: id(),
                        pieceId: "",
                        action,
                        by: finisher.id,
                        at: failAt - wordHour * hourMs,
                        untilAt: failAt + 100 * dayMs,
                        why: "In a hurry",
                      },
                    ],
              ),
            },
          );
          for (const action of [carry, { action: "press-together" } as const]) {
            const found = gate(picture, action, failAt + asked * hourMs);
            expect(found.state).toBe("shut");
            expect(found.needs.some(({ kind }) => kind === "test-says-no")).toBe(true);
          }
        },
      ),
    );
  });

  test("is answered by a partner's later pass of its own kind or a stronger one", () => {
    fc.assert(
      fc.property(hour, hour, any, (failed, later, kind) => {
        const failAt = laidAt + failed * hourMs;
        const passAt = failAt + later * hourMs;
        const { picture } = enamelled([
          { result: "fail", at: failAt },
          { kind, at: passAt, by: finisher.id },
        ]);
        expect(gate(picture, carry, passAt - 1).state).toBe("shut");
        expect(gate(picture, carry, passAt)).toMatchObject({ state: "open" });
      }),
    );
  });
});

describe("tests at the same instant", () => {
  test("are decided by the one that failed", () => {
    const { picture, top } = enamelled([{ by: finisher.id }, { by: finisher.id, result: "fail" }]);
    expect(testVerdict(picture, top.id, "handle", noonAt, undefined).kind).toBe("fail");
  });
});

describe("what was found before", () => {
  test.each(["a coat", "a removal", "water"])("%s is void after it", (change) => {
    const { picture, top } = enamelled([{ by: finisher.id }]);
    const changedAt = noonAt + hourMs;
    const [laid] = picture.coats;
    const after: Picture = {
      ...picture,
      ...(change === "a coat" && { coats: [...picture.coats, coat(top, w1, changedAt, { position: 2 })] }),
      ...(change === "a removal" && {
        coats: [
          ...picture.coats,
          { ...coat(top, w1, laidAt), removed: { at: changedAt, how: "sanded", why: "through" } },
        ],
      }),
      ...(change === "water" && { surfaces: [{ ...top, lastWaterAt: changedAt }] }),
    };
    expect(laid).toBeDefined();
    expect(testVerdict(after, top.id, "handle", changedAt - 1, undefined).kind).toBe("pass");
    expect(testVerdict(after, top.id, "handle", changedAt, undefined).kind).toBe("none");
  });
});

describe("the advice when to try again after a fail", () => {
  test("is a quarter of the sheet's hours in today's air, and an hour at least", () => {
    const { picture } = enamelled([{ result: "fail" }]);
    // by hand: 24 h / 4 at the reference of 25 °C
    expect(gate(picture, carry, noonAt).needs).toMatchObject([{ retestAt: noonAt + 6 * hourMs }]);
    const touch = enamelled([{ result: "fail", kind: "fingertip-on-glass", at: laidAt + 10 * minuteMs }]);
    const found = gate(touch.picture, { action: "touch" }, laidAt + 20 * minuteMs);
    expect(found.needs).toMatchObject([{ retestAt: laidAt + 70 * minuteMs }]);
  });
});

describe("what a test tells of its product", () => {
  test("is how far the film had come towards it: half way after twelve of twenty-four hours", () => {
    const { picture, tests } = enamelled([{}]);
    const lesson = lessonOf(picture, tests[0] as HandTest);
    expect(lesson?.productId).toBe(w1.product.id);
    expect(lesson?.ratio).toBeCloseTo(0.5, 6);
  });

  test("counts against the sheet's typical time where it states one", () => {
    const { picture, tests } = enamelled([{}]);
    const sheet = { ...w1.sheet, handle: { min: 1440, typicalMin: 960 } };
    const typical = { ...picture, sheetById: new Map([[sheet.id, sheet]]) };
    expect(lessonOf(typical, tests[0] as HandTest)?.ratio).toBeCloseTo(720 / 960, 6);
  });

  test("is of the film that was furthest behind, where a press tried two", () => {
    const { picture, top } = enamelled();
    const door = surface("door", picture.piece.id);
    const both = pair([top, door]);
    const later = laidAt + 2 * dayMs;
    const twofold: Picture = {
      ...picture,
      surfaces: [top, door],
      pairs: [both],
      coats: [...picture.coats, coat(door, o2, later)],
    };
    const press = handTest({
      subject: { of: "pair", pairId: both.id },
      kind: "paper-press",
      result: "fail",
      at: later + dayMs,
    });
    // by hand: the door has 24 of 168 hours, the top 72 of 96
    const lesson = lessonOf(twofold, press);
    expect(lesson?.productId).toBe(o2.product.id);
    expect(lesson?.ratio).toBeCloseTo(24 / 168, 6);
  });

  test.each([
    ["it is not clear", { result: "unclear" as const }, {}],
    ["no film lies there", {}, { coats: [] }],
    ["it is not a test of film", { kind: "bleed-patch" as const }, {}],
    ["the room was not read", {}, { airByRoomId: new Map([[loft.id, roomAir([], loft)]]) }],
  ])("is nothing where %s", (_why, test, more) => {
    const { picture, tests } = enamelled([test], more);
    expect(lessonOf(picture, tests[0] as HandTest)).toBeUndefined();
  });
});
