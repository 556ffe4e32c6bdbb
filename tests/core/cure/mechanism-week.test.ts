/** The same week, with sheets that ask for the law of their film's own mechanism instead of doubling. */
import { expect, test } from "vitest";
import type { GateAction } from "~/core/cure/demand";
import { gate } from "~/core/cure/gate";
import type { Sheet } from "~/core/shop/tables";
import {
  at,
  coat,
  l1,
  loft,
  pair,
  pictureOf,
  piece,
  sprayRoom,
  stay,
  surface,
  trippedLoft,
  w1,
  wallClock,
  weekReadings,
} from "./week";

const tripped = weekReadings(at("11-01 13:00 EST"), trippedLoft);

type Made = typeof w1;
const opensAt = (of: Made, more: Partial<Sheet>, endedAt: number, leftSprayAt: number, asked: GateAction) => {
  const ours = piece();
  const [body, fronts] = [surface("body", ours.id), surface("fronts", ours.id)];
  const sheet = { ...of.sheet, ...more };
  const picture = {
    ...pictureOf(
      {
        piece: ours,
        surfaces: [body, fronts],
        pairs: [pair([body, fronts])],
        coats: [coat(body, of, endedAt), coat(fronts, of, endedAt)],
        stays: [stay(ours.id, sprayRoom, at("10-20 08:00 EDT"), leftSprayAt), stay(ours.id, loft, leftSprayAt)],
      },
      tripped,
    ),
    sheetById: new Map([[sheet.id, sheet]]),
    productById: new Map([[of.product.id, of.product]]),
  };
  return wallClock(gate(picture, asked, at("11-01 12:00 EST")).safeAt);
};

const press: GateAction = { action: "press-together" };
const hands: GateAction = { action: "move", carried: "hands" };
const strapped: GateAction = { action: "wrap", wrap: "snug-paper", isStrapped: true };
const mechanism = { rateRule: "mechanism" } as const;
const toluene = { rateRule: "mechanism", solvent: "toluene" } as const;

// by hand. At 50 kJ/mol against 25 °C: 0.6608 at 19 °C, 0.6157 at 18 °C, 0.4618 at 14 °C (ASTM C1074); the room's 48 to 50 %
// leave water more room than that. Toluene's vapour pressure against 25 °C: 0.7276 at 19 °C, 0.6889 at 18 °C (NIST).
test.each([
  // 3.5 h · 0.6608 + 55 h · 0.6157 + 2.5 h · 0.4618 = 37.33 h; the other 58.67 h take 95.29 h from Wednesday 09:00 EDT
  {
    of: w1,
    what: "enamelled doors",
    asked: press,
    doubled: "Sun 1, 07:20 EST",
    own: "Sun 1, 07:20 EST",
    rule: mechanism,
  },
  // 4 h / 0.7276 = 5.50 h
  { of: l1, what: "lacquer", asked: hands, doubled: "Wed 28, 17:05 EDT", own: "Wed 28, 16:30 EDT", rule: toluene },
  // 7 h · 0.7276 = 5.09 h; the other 42.91 h take 62.28 h
  {
    of: l1,
    what: "strapped lacquer",
    asked: strapped,
    doubled: "Sat 31, 16:30 EDT",
    own: "Sat 31, 08:20 EDT",
    rule: toluene,
  },
])("$what wait until $doubled by doubling, until $own by their own law", ({ of, asked, doubled, own, rule }) => {
  const [endedAt, leftSprayAt] =
    of === w1 ? [at("10-25 14:30 EDT"), at("10-25 18:00 EDT")] : [at("10-28 11:00 EDT"), at("10-28 18:00 EDT")];
  expect(opensAt(of, {}, endedAt, leftSprayAt, asked)).toBe(doubled);
  expect(opensAt(of, rule, endedAt, leftSprayAt, asked)).toBe(own);
});

test("damp weather holds enamel where warmth alone would not: 85 % RH at 18 °C makes one hour to tack-free five", () => {
  // by hand: 20.65 hPa · 0.15 over 31.68 hPa · 0.5 is 0.1955, where warmth alone would count 0.6157
  const ours = piece();
  const top = surface("top", ours.id);
  const laidAt = at("10-20 12:00 EDT");
  const damp = weekReadings(at("10-24 12:00 EDT"), () => 18).map((found) => ({ ...found, humidityPercent: 85 }));
  const sheet = {
    ...w1.sheet,
    ...mechanism,
    recoatOpens: { min: 160 },
    setToTouch: { min: 30 },
    tackFree: { min: 60 },
  };
  const picture = {
    ...pictureOf(
      { piece: ours, surfaces: [top], coats: [coat(top, w1, laidAt)], stays: [stay(ours.id, loft, laidAt)] },
      damp,
    ),
    sheetById: new Map([[sheet.id, sheet]]),
    productById: new Map([[w1.product.id, w1.product]]),
  };
  const opens = gate(picture, { action: "move", carried: "bearers" }, at("10-23 12:00 EDT")).safeAt as number;
  expect((opens - laidAt) / 3_600_000).toBeCloseTo(1 / 0.1955, 1);
});
