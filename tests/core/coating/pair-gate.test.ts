import { expect, test } from "vitest";
import { recoatFilmGate } from "~/core/cure/gate";
import type { Sheet } from "~/core/shop/tables";
import {
  at,
  coat,
  handTest,
  loft,
  o1,
  o2,
  pictureOf,
  piece,
  shellacBlocker,
  stay,
  steadyLoft,
  surface,
  w2,
  weekReadings,
} from "../cure/week";

// the line on the can decides at the recoat gate too, whatever the trade's table has for clear over an oil colour coat (B)
const asked = at("10-30 08:00 EDT");
const readings = weekReadings(asked, steadyLoft);
type Line = Partial<Sheet["over"][number]>;

const gateOf = (line: Line | undefined, tested = false) => {
  const desk = piece();
  const top = surface("top", desk.id);
  const clear: Sheet = {
    ...w2.sheet,
    over: line ? [{ underFamily: "oil-stain", isNever: false, ...line }] : [],
  };
  const patch = handTest({
    subject: { of: "surface", surfaceId: top.id },
    kind: "recoat-patch",
    at: at("10-29 08:00 EDT"),
    result: "pass",
  });
  const picture = pictureOf(
    {
      piece: desk,
      surfaces: [top],
      coats: [coat(top, o1, at("10-26 10:00 EDT"))],
      stays: [stay(desk.id, loft, at("10-20 08:00 EDT"))],
      tests: tested ? [patch] : [],
      sheetById: new Map([o1, o2, shellacBlocker].map(({ sheet }) => [sheet.id, sheet])).set(clear.id, clear),
    },
    readings,
  );
  return recoatFilmGate(picture, { action: "recoat", surfaceId: top.id, sheetId: clear.id }, asked);
};

test.each<[string, Line | undefined, boolean, string, string[]]>([
  ["no line: the table wants a barrier", undefined, false, "shut-for-good", ["not-over-that"]],
  ["yes", { rule: "Y" }, false, "open", []],
  ["yes, scuffed", { rule: "S" }, false, "open", ["scuff"]],
  ["a barrier", { rule: "B" }, false, "shut-for-good", ["not-over-that"]],
  ["a test that nobody made", { rule: "T" }, false, "shut", ["not-over-that"]],
  ["a test that passed", { rule: "T" }, true, "open", []],
  ["once it has cured", { rule: "D" }, false, "shut", ["not-over-that", "scuff"]],
  ["never", { isNever: true }, false, "shut-for-good", ["not-over-that"]],
  // 93 h at 18 °C are 57 h at 25 °C
  ["scuffed, after 60 h", { rule: "S", waitMin: 60 * 60 }, false, "shut", ["not-over-that", "scuff"]],
  ["scuffed, after 50 h", { rule: "S", waitMin: 50 * 60 }, false, "open", ["scuff"]],
])("the can says of going over oil stain: %s", (_, line, tested, state, needs) => {
  const found = gateOf(line, tested);
  expect([found.state, found.needs.map(({ kind }) => kind)]).toEqual([state, needs]);
});
