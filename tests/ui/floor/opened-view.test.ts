import { describe, expect, test } from "vitest";
import { lostWords } from "~/ui/floor/lost-words";
import { openedView } from "~/ui/floor/opened-view";
import { outlookOf } from "~/ui/floor/outlook";
import { coat, surface, w1 } from "../../core/cure/week";
import {
  at,
  body,
  bookcase,
  chairs,
  drawers,
  dresser,
  finisher,
  fronts,
  handTest,
  nightstands,
  now,
  theShop,
  wednesday,
  zone,
} from "./wednesday";

type Opened = Parameters<typeof wednesday>[0];
const opened = (piece: typeof dresser, more: Opened = {}, when = now) =>
  openedView(outlookOf(wednesday(more), piece, theShop, when), when, zone);

describe("an opened strip", () => {
  test("draws every surface that carries a film, with its area and its passed posts", () => {
    const view = opened(dresser);
    expect(view?.films.map(({ surface, area }) => `${surface} ${area}`)).toEqual(["Body 3.1 m²", "Fronts 1.2 m²"]);
    // laid Sunday 14:30; 24 h of the sheet are earned on Tuesday 05:15 (tests/core/cure/demo-week.test.ts)
    expect(view?.films[0]?.film.posts).toContainEqual(
      expect.objectContaining({ kind: "passed", label: "handle", time: "Tue 05:15" }),
    );
  });

  test("draws a coat below that comes earlier by its own clock", () => {
    const above = [body, fronts].map((face) => coat(face, w1, at("10-26 14:30 EDT"), { position: 2 }));
    const films = opened(dresser, { coat: above })?.films;
    // the first coat alone presses together on Sunday 07:20 (tests/core/cure/demo-week.test.ts), the second a day later
    expect(films?.map((film) => film.coats?.map(({ name, safe }) => `${name} ${safe}`))).toEqual([
      ["coat 1 Sun 07:20"],
      ["coat 1 Sun 07:20"],
    ]);
  });

  test("does not tell two coats apart that come to the same day, a month from now", () => {
    const [film] = opened(nightstands, {}, at("10-28 20:00 EDT"))?.films ?? [];
    expect(film?.film.words.safe).toBeDefined();
    expect(film?.coats).toBeUndefined();
  });

  test("draws three faces or more that look the same once, by all their names, and two each by its own", () => {
    const seats = ["Seat 1", "Seat 2", "Seat 3"].map((name) => ({ ...surface(name, chairs.id), squareDecimetres: 90 }));
    const of = (faces: typeof seats) =>
      opened(chairs, { surface: faces, coat: faces.map((face) => coat(face, w1, at("10-27 10:00 EDT"))) })?.films;
    expect(of(seats)?.map((film) => `${film.surface} ${film.area}`)).toEqual(["Seat 1, Seat 2 and Seat 3 2.7 m²"]);
    expect(of(seats.slice(0, 2))?.map((film) => film.surface)).toEqual(["Seat 1", "Seat 2"]);
  });

  test("says the act, its safe time, the likely one and what holds, in this order", () => {
    const sentence = opened(dresser)?.sentence;
    expect(sentence?.head).toBe("Press together Sun 07:20");
    expect(sentence?.parts[0]).toBe("safe");
    expect(sentence?.parts[1]).toMatch(/^holds: (fronts against body|body against fronts), coat 1$/);
  });

  test("tells the night in which the loft was too cold to count", () => {
    expect(opened(dresser)?.why).toEqual(["The loft was cold for 5 h 30 last night."]);
  });

  test("lists each act once, open since or opening at, weakest first", () => {
    const lines = opened(dresser)?.mayI.map((line) => [line.gate, line.form]);
    expect(lines).toEqual([
      ["Touch", "open"],
      ["Carry on a stand", "open"],
      ["Handle", "open"],
      ["Press together", "waiting"],
      ["Wrap, loose", "open"],
      ["Wrap, strapped", "waiting"],
      ["Wrap, plastic", "waiting"],
      ["Full cure", "waiting"],
    ]);
  });

  test("never gives a time for lacquer against lacquer, nor for lacquer in plastic", () => {
    const lines = opened(nightstands)?.mayI ?? [];
    const press = lines.find(({ gate }) => gate === "Press together");
    expect(press).toMatchObject({ form: "never", word: "not by waiting" });
    expect(lines.find(({ gate }) => gate === "Wrap, plastic")).toMatchObject({ form: "never", word: "not by waiting" });
  });

  test("names the next coat among the acts, with the time of the film that it waits for", () => {
    expect(opened(bookcase)?.mayI).toContainEqual(
      expect.objectContaining({ gate: "Recoat, W2", form: "waiting", time: "Sat 13:05" }),
    );
  });

  test("of a bare piece has no film, no sentence and no acts to wait for", () => {
    expect(opened(chairs)).toMatchObject({ films: [], mayI: [], why: [] });
  });

  test("says who opened a gate by hand, instead of a clock", () => {
    const passed = handTest({
      pieceId: dresser.id,
      subject: { of: "pair", pairId: drawers.id },
      kind: "paper-press",
      at: at("10-28 14:00 EDT"),
      by: finisher.id,
      result: "pass",
    });
    const press = opened(dresser, { test: [passed] })?.mayI.find(({ gate }) => gate === "Press together");
    expect(press).toMatchObject({ form: "open", since: "14:00" });
  });
});

test("hours without a reading that began days ago are told from their beginning", () => {
  const picture = outlookOf(wednesday(), dresser, theShop, now).picture;
  if (!picture) throw new Error("the dresser has a picture");
  const span = { fromAt: at("10-26 22:00 EDT"), toAt: now, kind: "unknown" as const, roomId: dresser.roomId };
  expect(lostWords([span], picture, now, zone)).toEqual([
    "Nobody read the loft for 40 h 40 from Mon 22:00: no hours earned.",
  ]);
});

test("a short cold spell is not told, nor one of last week", () => {
  const picture = outlookOf(wednesday(), dresser, theShop, now).picture;
  if (!picture) throw new Error("the dresser has a picture");
  const span = (from: string, to: string) => [
    { fromAt: at(from), toAt: at(to), kind: "lost" as const, roomId: dresser.roomId },
  ];
  expect(lostWords(span("10-28 03:00 EDT", "10-28 03:20 EDT"), picture, now, zone)).toEqual([]);
  expect(lostWords(span("10-20 01:00 EDT", "10-20 06:30 EDT"), picture, now, zone)).toEqual([]);
  expect(lostWords(span("10-26 22:00 EDT", "10-27 02:00 EDT"), picture, now, zone)).toEqual([
    "The loft was cold for 4 h on Mon 26 Oct.",
  ]);
});
