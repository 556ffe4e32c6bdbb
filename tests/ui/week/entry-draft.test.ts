import { expect, test } from "vitest";
import { definitionOf } from "~/core/shop/intents";
import type { TimeEntry } from "~/core/shop/tables";
import { hourMs } from "~/core/units";
import { correctionOf, draftOf, newDraft, typedEntryOf } from "~/ui/week/entry-draft";
import { entryVersions } from "~/ui/week/entry-words";
import { fern, id, monday8 } from "../../core/support/people";
import { anEntry } from "../../core/support/pieces";

const zone = "America/New_York";
/** As a timer leaves it: with seconds. */
const timed: TimeEntry = anEntry({
  id: id(301),
  memberId: fern,
  startedAt: monday8 + 13_000,
  endedAt: monday8 + 3 * hourMs + 41_000,
  source: "timer",
  versions: [],
});

test("an entry that was only looked at is not corrected", () => {
  const draft = { ...draftOf(timed, zone), words: "looked" };
  expect(correctionOf(timed, draft, zone)).toMatchObject({ ok: false });
});

test("correcting the end leaves the seconds of the start alone", () => {
  const draft = {
    ...draftOf(timed, zone),
    to: { day: "2026-10-26", time: "10:30", pass: "first" as const },
    words: "lunch",
  };
  expect(correctionOf(timed, draft, zone)).toEqual({
    ok: true,
    value: { entryId: timed.id, endedAt: monday8 + 2.5 * hourMs, why: "lunch" },
  });
});

test("a correction without a reason is held back at the reason", () => {
  const corrected = correctionOf(timed, { ...draftOf(timed, zone), restMin: 15 }, zone);
  expect(corrected.ok || corrected.refusal).toHaveProperty("words");
});

test("an end before the start is said at the end", () => {
  const draft = {
    ...draftOf(timed, zone),
    to: { day: "2026-10-26", time: "07:00", pass: "first" as const },
    words: "x",
  };
  const corrected = correctionOf(timed, draft, zone);
  expect(corrected.ok || corrected.refusal).toHaveProperty("to");
});

test("a forgotten timer is opened with the last sign of work as its end", () => {
  const running = { ...timed, endedAt: undefined };
  const draft = { ...draftOf(running, zone, monday8 + 2 * hourMs), words: "went home" };
  expect(correctionOf(running, draft, zone)).toMatchObject({
    value: { endedAt: monday8 + 2 * hourMs, why: "went home" },
  });
  expect(draftOf(running, zone).to.time).toBe("");
});

test("what is sent is what the door takes", () => {
  const draft = {
    ...newDraft(fern, "2026-10-27"),
    from: { day: "2026-10-27", time: "19:30", pass: "first" as const },
    to: { day: "2026-10-27", time: "23:00", pass: "first" as const },
    subjects: [{ pieceId: id(201), stage: "repair" as const }],
  };
  const typed = typedEntryOf(draft, id(901), zone);
  expect(typed.ok && definitionOf("add-entry")?.body.safeParse(typed.value).success).toBe(true);
  const corrected = correctionOf(timed, { ...draftOf(timed, zone), restMin: 20, words: "tea" }, zone);
  expect(corrected.ok && definitionOf("correct-entry")?.body.safeParse(corrected.value).success).toBe(true);
});

test("the original of a forgotten timer stays readable under its correction", () => {
  const startedAt = Date.parse("2026-10-27T19:30-04:00");
  const corrected: TimeEntry = {
    ...timed,
    startedAt,
    endedAt: Date.parse("2026-10-27T23:00-04:00"),
    // by hand: 19:30 to 07:45 is 12 h 15
    versions: [
      {
        by: fern,
        at: Date.parse("2026-10-28T07:45-04:00"),
        was: { startedAt, runningSeconds: 44_100, restMin: 0 },
        why: "went home",
      },
    ],
  };
  const [was] = entryVersions(corrected, zone);
  expect(was).toMatchObject({ hours: "12:15", why: "went home" });
  expect(was?.times).toContain("Tue 27 Oct 19:30");
});
