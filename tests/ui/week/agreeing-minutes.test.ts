import fc from "fast-check";
import { expect, test } from "vitest";
import { agreeingMinutes } from "~/ui/week/agreeing-minutes";

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const columns = (table: readonly (readonly number[])[]) =>
  (table[0] ?? []).map((_, column) => table.map((row) => row[column] as number));

test("three pieces of 20 seconds each add up to the one minute that they are together", () => {
  expect(sum(agreeingMinutes([[20], [20], [20]]).flat())).toBe(1);
});

test("whole minutes are shown as they are", () => {
  expect(
    agreeingMinutes([
      [60, 0],
      [7200, 180],
    ]),
  ).toEqual([
    [1, 0],
    [120, 3],
  ]);
});

test("a week without hours has nothing to show", () => {
  expect(agreeingMinutes([])).toEqual([]);
  expect(agreeingMinutes([[], []])).toEqual([[], []]);
});

const tables = fc
  .tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 6 }))
  .chain(([rows, width]) =>
    fc.array(
      fc.array(fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 40_000 })), { minLength: width, maxLength: width }),
      { minLength: rows, maxLength: rows },
    ),
  );

const isWithinAMinute = (minutes: number, seconds: number) => Math.abs(minutes * 60 - seconds) < 60;

test("no cell, piece, person or total of any table is shown a minute or more off, and the total is the nearest minute", () => {
  fc.assert(
    fc.property(tables, (seconds) => {
      const minutes = agreeingMinutes(seconds);
      minutes.forEach((row, index) => {
        row.forEach((cell, column) => {
          expect(Number.isInteger(cell)).toBe(true);
          expect(isWithinAMinute(cell, seconds[index]?.[column] as number)).toBe(true);
        });
        expect(isWithinAMinute(sum(row), sum(seconds[index] as number[]))).toBe(true);
      });
      columns(minutes).forEach((column, index) => {
        expect(isWithinAMinute(sum(column), sum(columns(seconds)[index] as number[]))).toBe(true);
      });
      expect(sum(minutes.flat())).toBe(Math.floor(sum(seconds.flat()) / 60 + 0.5));
    }),
    { numRuns: 300 },
  );
});
