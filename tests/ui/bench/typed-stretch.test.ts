import { expect, test } from "vitest";
import { hourMs, minuteMs } from "~/core/units";
import { stretchTyped } from "~/ui/bench/typed-stretch";

// IANA data for the zone: UTC−4 in summer, back to UTC−5 on 1 November 2026 at 02:00, forward on 14 March 2027 at 02:00
const zone = "America/New_York";
const typed = (from: string, to: string, day = "2026-10-27", choice: "first" | "second" = "first") =>
  stretchTyped({ day, from, to, choice }, zone);

test("09:00 to 13:07 is 4 h 07 on the day that was said", () => {
  expect(typed("09:00", "13:07")).toEqual({
    ok: true,
    value: {
      startedAt: Date.UTC(2026, 9, 27, 13),
      endedAt: Date.UTC(2026, 9, 27, 17, 7),
      isPastMidnight: false,
      isTwice: false,
    },
  });
});

test("an evening that ends after midnight ends on the next day", () => {
  const found = typed("1930", "0015");
  expect(found).toMatchObject({ ok: true, value: { isPastMidnight: true } });
  // 19:30 to 00:15 by hand: 4 h 45
  if (found.ok) expect(found.value.endedAt - found.value.startedAt).toBe(4 * hourMs + 45 * minuteMs);
});

test("the repeated hour of autumn counts as it was meant", () => {
  const first = typed("00:30", "01:30", "2026-11-01", "first");
  const second = typed("00:30", "01:30", "2026-11-01", "second");
  expect(first).toMatchObject({ ok: true, value: { isTwice: true } });
  if (first.ok) expect(first.value.endedAt - first.value.startedAt).toBe(hourMs);
  if (second.ok) expect(second.value.endedAt - second.value.startedAt).toBe(2 * hourMs);
});

test("a time that the clocks skipped is asked again", () => {
  expect(typed("02:30", "05:00", "2027-03-14")).toMatchObject({ ok: false, refusal: { field: "from" } });
});

test.each([
  { from: "", to: "10:00", field: "from" },
  { from: "09:00", to: "25:00", field: "to" },
])("$from to $to is asked again at the field that is wrong", ({ from, to, field }) => {
  expect(typed(from, to)).toMatchObject({ ok: false, refusal: { field } });
});
