import { expect, test } from "vitest";
import { readMoment, typedMomentOf } from "~/ui/kit/typed-moment";

const zone = "America/New_York";
const typed = (day: string, time: string, pass: "first" | "second" = "first") => ({ day, time, pass });

// New York is at UTC-4 until 2026-11-01 02:00 EDT and at UTC-5 from then on (IANA time zone data)
const firstHalfPastOne = Date.UTC(2026, 10, 1, 5, 30);
const secondHalfPastOne = Date.UTC(2026, 10, 1, 6, 30);

test("half past one comes twice when the clocks go back, and either can be meant", () => {
  expect(readMoment(typed("2026-11-01", "01:30"), zone)).toEqual({
    ok: true,
    value: { at: firstHalfPastOne, isTwice: true },
  });
  expect(readMoment(typed("2026-11-01", "01:30", "second"), zone)).toMatchObject({ value: { at: secondHalfPastOne } });
});

test("an hour that is opened for correction is the hour that is saved, also in that night", () => {
  for (const at of [firstHalfPastOne, secondHalfPastOne, Date.UTC(2026, 9, 27, 23, 30)]) {
    expect(readMoment(typedMomentOf(at, zone), zone)).toMatchObject({ ok: true, value: { at } });
  }
});

// 2026-03-08 02:00 EST is followed by 03:00 EDT (IANA time zone data)
test("a time that the clocks skip in spring is sent back", () => {
  expect(readMoment(typed("2026-03-08", "02:30"), zone).ok).toBe(false);
});

test("730, 7.30 and 07:30 are one time", () => {
  const at = Date.UTC(2026, 9, 28, 11, 30);
  for (const time of ["730", "7.30", "0730", "07:30", " 7:30 "]) {
    expect(readMoment(typed("2026-10-28", time), zone)).toMatchObject({ ok: true, value: { at } });
  }
});

test.each(["", "25:00", "12:60", "noon", "7"])("“%s” is no time, and the field says how to write one", (time) => {
  const read = readMoment(typed("2026-10-28", time), zone);
  expect(read.ok).toBe(false);
  expect(read.ok || read.refusal).toContain("14:20");
});
