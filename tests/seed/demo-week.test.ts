/**
 * The demo week on its fixed Monday, 26 October 2026, whose Sunday has 25 hours. The instants were worked out by hand from
 * the invented sheets' hours, the rooms' air and 2^((T − 25) / 10), rounded up to five minutes.
 */
import { describe, expect, test } from "vitest";
import { shopDayAt } from "~/core/calendar";
import { type GateAction, gate } from "~/core/cure/gate";
import { spanOf, spanSeconds } from "~/core/labour/entry";
import { weekReport } from "~/core/labour/week";
import { leadState } from "~/core/safety/lead";
import { pictureOf } from "~/core/shop/picture";
import { type Wall, WeekClock, zone } from "../../seed/clock";
import { demoWeek } from "../../seed/demo-week";
import { entryIdOf } from "../../seed/hours";
import { promiseIdOf, taskIdOf } from "../../seed/pen";
import { memberIdOf, type Person } from "../../seed/people";
import { type PieceNumber, pairIdOf, pieceIdOf, surfaceIdOf } from "../../seed/pieces";
import { sheetIdOf } from "../../seed/products";
import { thisWeek } from "../../seed/this-week";
import { wallClock } from "../core/cure/week";
import { playInMemory } from "./memory-play";

const clock = new WeekClock("2026-10-26");
const lines = demoWeek(clock.monday);
const facts = playInMemory(lines);

const gateOf = (piece: PieceNumber, asked: GateAction, wall: Wall) => {
  const picture = pictureOf(facts, pieceIdOf(piece));
  if (!picture) throw new Error(`no ${piece}`);
  return gate(picture, asked, clock.at(wall));
};
const recoat = (piece: PieceNumber, surface: string, code: "W2" | "O2"): GateAction => ({
  action: "recoat",
  surfaceId: surfaceIdOf(piece, surface),
  sheetId: sheetIdOf(code),
  scuffedBefore: true,
});
const secondsOf = (person: Person, piece?: PieceNumber) =>
  facts
    .entries(memberIdOf(person), 0)
    .filter((entry) => piece === undefined || entry.subjects.some((subject) => subject.pieceId === pieceIdOf(piece)))
    .map((entry) => ({ day: shopDayAt(entry.startedAt, zone), seconds: spanSeconds(spanOf(entry, clock.endsAt)) }));
const sum = (found: { seconds: number }[]) => found.reduce((total, { seconds }) => total + seconds, 0);
const minutes = (hours: number, more = 0) => (hours * 60 + more) * 60;

describe("the demo week of 26 October 2026", () => {
  test("refuses what it is meant to refuse, and nothing else", () => {
    const refused = lines.filter((line) => line.expect !== "accepted").map((line) => line.expect);
    expect(refused.sort()).toEqual([
      "air-unfit",
      "air-unfit",
      "claimed-while-apart",
      "coats-left",
      "gate-shut",
      "gate-shut",
      "glue-too-cold",
      "lead-locked",
      "promise-too-early",
      "task-waits",
      "tasks-open",
    ]);
  });

  test("nothing was laid, carried or pressed before its gate opened", () => {
    expect(facts.all("passedOver")).toEqual([]);
  });

  test.each<[string, PieceNumber, GateAction, Wall, string]>([
    [
      "the dresser's drawers go in",
      "K-201",
      { action: "press-together", pairId: pairIdOf("K-201") },
      "Sat 20:00",
      "Sun 1, 07:20 EST",
    ],
    [
      "the dresser may be carried by hand",
      "K-201",
      { action: "move", carried: "hands" },
      "Mon 20:00",
      "Tue 27, 05:15 EDT",
    ],
    ["the bookcase takes its clear coat", "K-207", recoat("K-207", "carcass", "W2"), "Thu 12:00", "Sat 31, 13:05 EDT"],
    ["the table takes its second coat", "K-203", recoat("K-203", "top", "O2"), "Wed 11:00", "Wed 28, 11:40 EDT"],
    ["the nightstands may be handled", "K-208", { action: "move", carried: "hands" }, "Wed 14:00", "Wed 28, 17:05 EDT"],
    ["the wardrobe may be handled", "K-202", { action: "move", carried: "hands" }, "Thu 11:30", "Fri 30, 05:15 EDT"],
    ["the table may be handled", "K-203", { action: "move", carried: "hands" }, "Sat 20:00", "Sun 1, 01:30 EDT"],
    [
      "the desk's drawers go in",
      "K-205",
      { action: "press-together", pairId: pairIdOf("K-205") },
      "Sun 20:00",
      "Fri 6, 19:55 EST",
    ],
  ])("%s when their hours are earned", (_title, piece, asked, wall, expected) => {
    expect(wallClock(gateOf(piece, asked, wall).safeAt)).toBe(expected);
  });

  test("three days by the clock earn the bookcase 40.6 of its 72 hours", () => {
    const found = gateOf("K-207", recoat("K-207", "carcass", "W2"), "Thu 10:00");
    expect([((found.safeCreditMin ?? 0) / 60).toFixed(1), found.neededMin]).toEqual(["40.6", 72 * 60]);
  });

  test("the buyer's straps at ten on Saturday come at 44.0 of 48 hours; loose paper is open", () => {
    const strapped = gateOf("K-208", { action: "wrap", wrap: "snug-paper", isStrapped: true }, "Sat 10:00");
    expect(strapped.state).toBe("shut");
    expect([((strapped.safeCreditMin ?? 0) / 60).toFixed(1), strapped.neededMin]).toEqual(["44.0", 48 * 60]);
    expect(wallClock(strapped.safeAt)).toBe("Sat 31, 16:30 EDT");
    expect(gateOf("K-208", { action: "wrap", wrap: "loose-paper", isStrapped: false }, "Sat 10:00").state).toBe("open");
  });

  test("the chest stays locked: its second layer holds lead", () => {
    const chest = facts.get("piece", pieceIdOf("K-206"));
    if (!chest) throw new Error("no chest");
    const tests = facts.where("test", "pieceId", chest.id);
    expect(leadState(chest, tests, 1978, clock.at("Sun 20:00"))).toBe("positive");
    expect(facts.get("task", taskIdOf("sand-chest"))?.state).toBe("open");
    expect(facts.where("claim", "taskId", taskIdOf("sand-chest"))).toEqual([]);
  });

  test("the wardrobe's photos moved to Friday and say why", () => {
    const first = facts.get("promise", promiseIdOf("K-202 photos"));
    expect(first).toMatchObject({ state: "moved", movedTo: promiseIdOf("K-202 photos on Friday") });
    expect(facts.get("promise", promiseIdOf("K-202 photos on Friday"))).toMatchObject({
      state: "kept",
      why: expect.stringMatching(/05:15/),
    });
  });
});

describe("the hours of the demo week", () => {
  test("Hollis worked 20 h 04 min, to the minute of each day", () => {
    const found = secondsOf("hollis");
    const onDay = (day: string) => sum(found.filter((entry) => entry.day === day));
    expect(["2026-10-27", "2026-10-28", "2026-10-30", "2026-10-31"].map(onDay)).toEqual([
      minutes(4, 7),
      minutes(5, 40),
      minutes(4, 7),
      minutes(4) + minutes(2, 10),
    ]);
    expect(sum(found)).toBe(minutes(20, 4));
  });

  test("the nightstands took Fern 4 h 15, Rufus 1 h 30, Sable 1 h 45 and a van ride, Hollis 2 h 30 and the same ride", () => {
    const spent = (person: Person) => sum(secondsOf(person, "K-208"));
    expect(spent("fern")).toBe(minutes(4, 15));
    expect(spent("rufus")).toBe(minutes(1, 30));
    expect(spent("sable")).toBe(minutes(1, 45) + minutes(2, 10));
    expect(spent("hollis")).toBe(minutes(2, 30) + minutes(2, 10));
  });

  test("the forgotten timer counts 12 600 seconds, with the 12 h 15 that it showed kept under it", () => {
    const entry = facts.get("entry", entryIdOf(clock, "rufus", "Tue 19:30"));
    if (!entry) throw new Error("no entry");
    expect(spanSeconds(spanOf(entry, clock.endsAt))).toBe(12_600);
    expect(entry.versions).toMatchObject([{ by: memberIdOf("rufus"), was: { runningSeconds: minutes(12, 15) } }]);
  });

  test("add up without an overlap, a word that is missing or a timer left running", () => {
    const report = weekReport(
      {
        week: { fromAt: clock.startsAt, toAt: clock.endsAt },
        entries: facts.all("entry"),
        claims: facts.all("claim"),
        pieces: facts.all("piece"),
      },
      clock.at("Sun 20:00"),
    );
    expect([report.overlaps, report.needingWord, report.running]).toEqual([[], [], []]);
    expect(report.workedSeconds).toBe(report.bookedSeconds);
  });
});

test.each([
  ["2026-03-02", "whose Sunday has 23 hours"],
  ["2026-07-06", "in summer"],
  ["2026-12-28", "over the turn of the year"],
  ["2027-02-22", "followed by a week whose Sunday has 23 hours"],
])("two weeks from %s, %s, are ruled as they say", (monday) => {
  const next = new WeekClock(monday).later(1);
  expect(() => playInMemory([...demoWeek(monday), ...thisWeek(next.monday, next.endsAt)])).not.toThrow();
});
