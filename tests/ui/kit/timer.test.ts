import { expect, test } from "vitest";
import { elapsedFigure } from "~/ui/kit/timer";

// By hand: 3 h 5 min is 11 100 s; the 59 s after it are not yet a minute.
test.each([
  { seconds: 59, figure: "0:00" },
  { seconds: 727, figure: "0:12" },
  { seconds: 11_159, figure: "3:05" },
  { seconds: 90_000, figure: "25:00" },
])("$seconds s on the timer read $figure, never rounded up", ({ seconds, figure }) => {
  expect(elapsedFigure(seconds)).toBe(figure);
});
