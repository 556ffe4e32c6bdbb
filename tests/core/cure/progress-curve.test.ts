import { describe, expect, test } from "vitest";
import { gate } from "~/core/cure/gate";
import type { LaidCoat, Picture } from "~/core/cure/picture";
import { progressCurve } from "~/core/cure/progress-curve";
import type { Reading } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import { at, coat, everyTenMinutes, l1, loft, pictureOf, piece, stay, surface, w1 } from "./week";

const laidAt = at("10-20 12:00 EDT");
const press = { action: "press-together" } as const;

const enamelled = (readings: readonly Reading[], of = w1): Picture => {
  const ours = piece();
  const top = surface("top", ours.id);
  return pictureOf(
    {
      piece: ours,
      surfaces: [top],
      coats: [coat(top, of, laidAt) as LaidCoat],
      stays: [stay(ours.id, loft, laidAt - dayMs)],
    },
    readings,
  );
};
const loftAt = (celsiusAt: (when: number) => number, hours: number) =>
  everyTenMinutes(loft, laidAt - 7 * dayMs, laidAt + hours * hourMs, celsiusAt);
const curveOf = (picture: Picture, when: number) => progressCurve(picture, gate(picture, press, when), when);

describe("the curve of enamel that wants 96 h at 25 °C, in a loft at 18 °C", () => {
  const asked = laidAt + 48 * hourMs;
  const picture = enamelled(loftAt(() => 18, 48));
  const curve = curveOf(picture, asked);

  test("runs from when it was laid to when it is safe, 156 h later", () => {
    // by hand: 96 h / 2^(−0.7) = 155.96 h
    expect(curve).toMatchObject({ laidAt, nowAt: asked, neededMin: 96 * 60, lowestCelsius: 10 });
    expect(((curve?.endAt ?? 0) - laidAt) / hourMs).toBeCloseTo(155.96, 1);
    expect(curve?.endAt).toBe(curve?.safeAt);
    // 48 h · 2^(−0.7) = 29.55 h
    expect((curve?.safeCreditMin ?? 0) / 60).toBeCloseTo(29.55, 1);
  });

  test("is a straight line from nothing to all of it, and warm or cold as the room is", () => {
    const points = curve?.points ?? [];
    for (const [step, point] of points.entries()) {
      expect(point.safeShare).toBeCloseTo(step / (points.length - 1), 3);
      expect(point.celsius).toBeCloseTo(18, 6);
    }
    expect(points).toHaveLength(61);
    expect(curve?.stoodStill).toEqual([]);
  });
});

test("a heater out for five hours at 8 °C lays a level step into the curve, and says since when it stood still", () => {
  const [coldFrom, coldTo] = [laidAt + 10 * hourMs, laidAt + 15 * hourMs];
  const picture = enamelled(loftAt((when) => (when >= coldFrom && when < coldTo ? 8 : 18), 20));
  const curve = curveOf(picture, laidAt + 20 * hourMs);
  const [still, ...others] = curve?.stoodStill ?? [];
  expect(others).toEqual([]);
  expect(still?.kind).toBe("lost");
  // the last reading before each step is a minute older, and 10 °C is passed within that minute
  expect(Math.abs((still?.fromAt ?? 0) - coldFrom)).toBeLessThan(60_000);
  expect(Math.abs((still?.toAt ?? 0) - coldTo)).toBeLessThan(60_000);
  const within = curve?.points.filter((point) => point.at > coldFrom && point.at < coldTo) ?? [];
  expect(within.length).toBeGreaterThan(0);
  expect(new Set(within.map(({ safeShare }) => safeShare.toFixed(6))).size).toBe(1);
  expect(within.every(({ celsius }) => celsius === 8)).toBe(true);
});

test("six hours that nobody read have no temperature, and count as stood still, not as lost", () => {
  const [silentFrom, silentTo] = [laidAt + 20 * hourMs, laidAt + 26 * hourMs];
  const rows = loftAt(() => 18, 30).filter((row) => row.at <= silentFrom || row.at >= silentTo);
  const curve = curveOf(enamelled(rows), laidAt + 30 * hourMs);
  expect(curve?.stoodStill).toMatchObject([{ kind: "unknown", fromAt: silentFrom, toAt: silentTo }]);
  const within = curve?.points.filter((point) => point.at > silentFrom && point.at < silentTo) ?? [];
  expect(within.length).toBeGreaterThan(0);
  expect(within.every((point) => point.celsius === undefined)).toBe(true);
});

test("a room too cold for good has no end to draw: the curve goes a little past now", () => {
  const asked = laidAt + 40 * hourMs;
  const curve = curveOf(enamelled(loftAt(() => 6, 40)), asked);
  expect(curve?.safeAt).toBeUndefined();
  expect(curve?.endAt).toBeGreaterThan(asked);
  expect(curve?.points.every(({ safeShare }) => safeShare === 0)).toBe(true);
});

test("lacquer that is never pressed together, and bare wood, have no curve", () => {
  const warm = loftAt(() => 25, 48);
  expect(curveOf(enamelled(warm, l1), laidAt + 48 * hourMs)).toBeUndefined();
  expect(curveOf({ ...enamelled(warm), coats: [] }, laidAt + 48 * hourMs)).toBeUndefined();
});
