/** What stands on the shelf of the invented shop in its demo week, and what is mixed of it. */
import { describe, expect, test } from "vitest";
import { airAhead } from "~/core/climate/good-air";
import { canLife, shelfDays } from "~/core/coating/can-life";
import { unthinned } from "~/core/coating/thinning";
import { usualGun } from "~/ui/mixing/gun-setup";
import { mixingShown } from "~/ui/mixing/mixing-view";
import { plannedCoats } from "~/ui/mixing/planned-coats";
import { canIdOf } from "../../seed/cans";
import { type Wall, WeekClock, zone } from "../../seed/clock";
import { demoWeek } from "../../seed/demo-week";
import { pieceIdOf } from "../../seed/pieces";
import { sheetIdOf } from "../../seed/products";
import { roomIdOf } from "../../seed/rooms";
import { arrivalAt } from "../../seed/script";
import { playInMemory } from "./memory-play";

const clock = new WeekClock("2026-10-26");
const lines = demoWeek(clock.monday);
const shopAt = (wall: Wall) => playInMemory(lines.filter((line) => arrivalAt(line) <= clock.at(wall)));

describe("the nightstands' lacquer", () => {
  const facts = shopAt("Wed 08:30");
  const coats = plannedCoats(facts).filter(({ piece }) => piece.id === pieceIdOf("K-208"));

  test("is 0.94 L for two coats at 28 % solids and 55 % transfer", () => {
    const choice = {
      gun: usualGun,
      choiceBySheetId: { [sheetIdOf("L1")]: { thinning: unthinned } },
      roomId: undefined,
    };
    const [shown] = mixingShown(facts, { coats, ...choice }, clock.at("Wed 08:30"), zone);
    expect(shown?.transferPercent).toBe(55);
    // 2 × 2.9 m² × 25 µm / (0.28 × 0.55) = 941.6 mL; the film is laid by the comb in whole µm, 89: 938.5
    expect((shown?.mix.millilitres ?? 0) / 1000).toBeCloseTo(0.94, 2);
  });
});

test("the old oil goes onto the table because a drop of it hardened on glass, and is doubted again a week later", () => {
  const facts = shopAt("Tue 10:00");
  const can = facts.get("can", canIdOf("O2-1"));
  if (!can) throw new Error("no can");
  const sheet = shelfDays(facts.get("sheet", sheetIdOf("O2")), "oil-varnish");
  const lifeAt = (at: number) => canLife(can, sheet, zone, at);
  expect(lifeAt(clock.at("Mon 12:00"))).toMatchObject({ state: "past", because: "opened-too-long" });
  expect(lifeAt(clock.at("Tue 10:00"))).toMatchObject({ state: "proved" });
  expect(lifeAt(clock.later(1).at("Tue 10:00"))).toMatchObject({ state: "past", because: "opened-too-long" });
});

test("on Monday the forecast already takes Thursday morning from enamel, and lacquer gets no hour that day", () => {
  const facts = shopAt("Mon 12:00");
  const isGood = (code: "W1" | "L1", wall: Wall) => {
    const sheet = facts.get("sheet", sheetIdOf(code));
    if (!sheet) throw new Error(`no ${code}`);
    const at = clock.at(wall);
    const ahead = airAhead(sheet, facts.air(roomIdOf("spray"), clock.startsAt), clock.at("Mon 12:00"));
    return ahead.some((stretch) => stretch.isGood && stretch.fromAt <= at && at < stretch.toAt);
  };
  expect(isGood("W1", "Thu 09:00")).toBe(false);
  expect(isGood("W1", "Thu 14:00")).toBe(true);
  expect(["Thu 09:00", "Thu 14:00"].map((wall) => isGood("L1", wall as Wall))).toEqual([false, false]);
  expect(isGood("L1", "Fri 09:00")).toBe(true);
});
