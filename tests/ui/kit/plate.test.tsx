import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { Plate, type PlateProps } from "~/ui/kit/plate";

const spoken = (plate: PlateProps) =>
  renderToStaticMarkup(<Plate {...plate} />)
    .replace(/<[^>]+>/g, "")
    .replace(/\s+/g, " ")
    .trim();

test.each<{ plate: PlateProps; words: string }>([
  { plate: { form: "open", action: "Handle", since: "Tue 05:15" }, words: "Handle since Tue 05:15 open now" },
  {
    plate: { form: "soon", action: "Handle", time: "17:05", likely: "16:15" },
    words: "Handle 17:05, safe likely 16:15",
  },
  { plate: { form: "waiting", action: "Recoat", time: "Sat 13:05" }, words: "Recoat Sat 13:05, safe" },
  {
    plate: { form: "due", action: "Wipe back", time: "13:20", detail: "8 min left" },
    words: "Wipe back 13:20 8 min left",
  },
  { plate: { form: "barred", action: "No sanding", verb: "Decide" }, words: "No sanding Decide" },
])("a plate that is $plate.form says so without its colour", ({ plate, words }) => {
  expect(spoken(plate)).toBe(words);
});

test("a plate whose likely time is its safe time says one time", () => {
  expect(spoken({ form: "waiting", action: "Handle", time: "17:05", likely: "17:05" })).toBe("Handle 17:05, safe");
});

test("a plate whose time moved says what it was before", () => {
  expect(spoken({ form: "waiting", action: "Handle", time: "Sun 07:20", was: "Sun 01:20" })).toContain("was Sun 01:20");
});
