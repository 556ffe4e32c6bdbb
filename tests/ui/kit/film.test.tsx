import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { Film, type FilmProps } from "~/ui/kit/film";
import { labelRows, percentAlong } from "~/ui/kit/film-scale";

const fronts: FilmProps = {
  words: {
    surface: "fronts",
    state: "tack-free",
    earned: "40.8 of 96 h earned",
    likely: "Sat 10:05",
    safe: "Sun 07:20",
    holds: "fronts against body, coat 2",
  },
  ripple: "tack",
  now: 0.45,
  likely: { at: 0.86 },
  safe: {},
};

const posts = (film: FilmProps) =>
  [...renderToStaticMarkup(<Film {...film} />).matchAll(/data-kind="(\w+)"/g)].map((post) => post[1]);

test("a film tells the ear its surface, state, hours, likely time, safe time and what holds it", () => {
  expect(renderToStaticMarkup(<Film {...fronts} />)).toContain(
    'role="img" aria-label="fronts: tack-free; 40.8 of 96 h earned; likely Sat 10:05; safe Sun 07:20; holds fronts against body, coat 2"',
  );
});

test("a film that is still to level shows a likely and a safe post", () => {
  expect(posts(fronts)).toEqual(["likely", "safe"]);
});

test("where likely and safe coincide there is one post, the flagged one", () => {
  expect(posts({ ...fronts, likely: { at: 1 } })).toEqual(["safe"]);
});

test("a film that waiting will not open shows no post at all", () => {
  expect(posts({ ...fronts, isBarred: true })).toEqual([]);
});

test("no moment is drawn beyond the edges of the wood", () => {
  expect(percentAlong(-0.2, 92)).toBe(0);
  expect(percentAlong(3, 92)).toBe(100);
});

test("two milestones an hour apart get their labels in two rows, far ones share a row", () => {
  expect(labelRows([{ at: 0.1 }, { at: 0.12 }, { at: 0.6 }], true)).toEqual([0, 1, 0]);
});
