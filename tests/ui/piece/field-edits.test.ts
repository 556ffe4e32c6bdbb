import { expect, test } from "vitest";
import { fieldEdits, figureOrNothing, textOrNothing } from "~/ui/piece/field-edits";

test("only what somebody changed is sent, each field with what it was", () => {
  const before = { name: "Dresser", wood: undefined, madeYear: 1905 };
  expect(fieldEdits(before, { name: "Dresser", wood: "maple", madeYear: undefined })).toEqual([
    { field: "wood", was: undefined, value: "maple" },
    { field: "madeYear", was: 1905, value: undefined },
  ]);
});

test("an emptied field is nothing, not zero and not an empty word", () => {
  expect(figureOrNothing(Number.NaN)).toBeUndefined();
  expect(figureOrNothing(0)).toBe(0);
  expect(textOrNothing("  ")).toBeUndefined();
});
