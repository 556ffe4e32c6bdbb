import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { canLeft } from "~/core/coating/can-left";
import { canLife } from "~/core/coating/can-life";
import type { Can, Coat, Mix } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import { aCoat, aSheet, aSurface, fern, loft, monday8, paint, paintSheet, top } from "../support/shop";

const zone = "America/New_York";
/** Written down on 1 July 2024, 00:00:00 UTC: 1 719 792 000 000 ms = 0x01906bb8f400. By hand, RFC 9562, 5.7. */
const canId = "01906bb8-f400-7000-8000-000000000001";
const aCan = (row: Partial<Can> = {}): Can => ({
  id: canId,
  productId: paint,
  label: "S-1",
  filledMillilitres: 1000,
  isLabelled: true,
  openedOn: "2026-10-01",
  ...row,
});
const endOf = (day: string) => Date.parse(`${day}T23:59:00-04:00`);

describe("a can opened on 1 October that keeps for 25 days", () => {
  // by hand: 1 October + 25 days = 26 October
  test("is good to the end of its last day in the shop's zone", () => {
    expect(canLife(aCan(), { shelfOpenedDays: 25 }, zone, endOf("2026-10-26"))).toEqual({
      state: "good",
      lastDay: "2026-10-26",
    });
    expect(canLife(aCan(), { shelfOpenedDays: 25 }, zone, endOf("2026-10-26") + 60_000)).toEqual({
      state: "past",
      because: "opened-too-long",
      lastDay: "2026-10-26",
    });
  });

  test("is good for another week from a drop that hardened, then asks again", () => {
    const drop = { testId: canId, at: endOf("2026-10-27"), result: "pass" as const };
    const asked = (at: number) => canLife(aCan({ dropTest: drop }), { shelfOpenedDays: 25 }, zone, at).state;
    expect(asked(drop.at)).toBe("proved");
    expect(asked(drop.at + 7 * dayMs)).toBe("proved");
    expect(asked(drop.at + 7 * dayMs + 1)).toBe("past");
    expect(asked(drop.at - 1)).toBe("past");
  });

  test("is dead, however new, once a drop stayed soft", () => {
    const drop = { testId: canId, at: endOf("2026-10-02"), result: "fail" as const };
    expect(canLife(aCan({ dropTest: drop }), { shelfOpenedDays: 25 }, zone, endOf("2026-10-03"))).toMatchObject({
      state: "past",
      because: "drop-stayed-soft",
    });
  });
});

test("a sealed can is at least as old as its line on the shelf list", () => {
  const sealed = aCan({ openedOn: undefined });
  // by hand: 1 July 2024 00:00 UTC is 30 June in New York; + 365 days = 30 June 2025
  expect(canLife(sealed, { shelfUnopenedDays: 365 }, zone, endOf("2025-06-30"))).toEqual({
    state: "good",
    lastDay: "2025-06-30",
  });
  expect(canLife(sealed, { shelfUnopenedDays: 365 }, zone, endOf("2025-07-01"))).toMatchObject({
    because: "unopened-too-long",
  });
});

test("a can without a label is past trusting, and a sheet that says nothing of shelf life leaves a labelled one good", () => {
  expect(canLife(aCan({ isLabelled: false }), {}, zone, monday8)).toEqual({ state: "past", because: "unlabelled" });
  expect(canLife(aCan({ openedOn: "2016-10-28" }), {}, zone, monday8)).toEqual({ state: "good" });
});

const mixOf = (row: Partial<Mix> = {}): Mix => ({
  id: "mix",
  sheetId: paintSheet,
  canIds: [canId],
  millilitres: 400,
  thinnerMillilitres: 100,
  mixedAt: monday8,
  by: fern,
  roomId: loft,
  ...row,
});
const coatOf = (more: Partial<NonNullable<Coat["applied"]>> = {}): Coat =>
  aCoat({
    id: "coat",
    state: "applied",
    applied: {
      startedAt: monday8 - hourMs,
      endedAt: monday8,
      by: [fern],
      roomId: loft,
      scuffedBefore: false,
      canIds: [canId],
      wetFilmMicrometres: 110,
      ...more,
    },
  });
const left = (can: Can, coats: Coat[], mixes: Mix[], sheet: Parameters<typeof aSheet>[0] = {}, at = monday8 + dayMs) =>
  canLeft(
    can,
    {
      coats,
      mixes,
      sheetById: () => aSheet(sheet),
      surfaceById: (id) => (id === top ? aSurface({ squareDecimetres: 100 }) : undefined),
    },
    at,
  );

describe("what is left in a can", () => {
  test("is its fill less the product in each mix, without the thinner that came from elsewhere", () => {
    expect(left(aCan(), [], [mixOf()]).millilitres).toBe(700);
    expect(left(aCan(), [], [mixOf({ hardenerMillilitres: 50 })]).millilitres).toBe(750);
  });

  test("is less by film times area over transfer for a coat straight from it, and not again for one out of a mix", () => {
    // by hand: 1 m² under 110 µm is 110 mL; 55 % of what leaves the gun stays, common practice for HVLP: 200 mL
    expect(left(aCan(), [coatOf()], []).millilitres).toBeCloseTo(800, 9);
    expect(left(aCan(), [coatOf({ mixId: "mix" })], [mixOf()]).millilitres).toBe(700);
  });

  test("is less by what the can says a litre covers where no film is known", () => {
    // by hand: 1 m² at 18 m² a litre
    const wiped = coatOf({ wetFilmMicrometres: undefined });
    const sheet = { wetFilmMicrometres: undefined, spreadSquareMetresPerLitre: 18 };
    expect(left(aCan(), [wiped], [], sheet).millilitres).toBeCloseTo(1000 - 55.6, 1);
  });

  test("starts from the last count: what was taken before it is in it", () => {
    const counted = aCan({ counted: { at: monday8 + hourMs, millilitres: 300 } });
    expect(left(counted, [coatOf()], [mixOf()]).millilitres).toBe(300);
    const later = mixOf({ mixedAt: monday8 + 2 * hourMs });
    expect(left(counted, [], [later])).toEqual({ millilitres: 0, takenMillilitres: 300, asksForCount: false });
  });

  test("is never below nothing: more than that was taken asks for a look into the can", () => {
    const small = aCan({ filledMillilitres: 250 });
    expect(left(small, [], [mixOf()])).toEqual({ millilitres: 0, takenMillilitres: 300, asksForCount: true });
  });

  test("never grows by a use, whatever is mixed, and is never below nothing", () => {
    const mixes = fc.array(fc.integer({ min: 1, max: 2000 }), { maxLength: 8 });
    fc.assert(
      fc.property(mixes, (volumes) => {
        const made = volumes.map((millilitres) => mixOf({ millilitres, thinnerMillilitres: undefined }));
        const found = made.map((_, count) => left(aCan(), [], made.slice(0, count + 1)).millilitres);
        for (const [index, millilitres] of found.entries()) {
          expect(millilitres).toBeGreaterThanOrEqual(0);
          expect(millilitres).toBeLessThanOrEqual(found[index - 1] ?? 1000);
        }
      }),
    );
  });
});
