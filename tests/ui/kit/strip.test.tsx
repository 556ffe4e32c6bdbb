import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { Strip, type StripProps } from "~/ui/kit/strip";
import { StripList } from "~/ui/kit/strip-list";

const dresser: StripProps = {
  tag: "K-201",
  href: "/pieces/K-201",
  name: "Six-drawer dresser",
  run: { stage: "cure" },
  plate: { form: "waiting", action: "Press together", time: "Sun 07:20" },
};

const chart = (openTag: string | null) =>
  renderToStaticMarkup(
    <StripList label="Pieces" openTag={openTag}>
      <Strip {...dresser}>fronts against body</Strip>
      <Strip {...dresser} tag="K-208" name="Pair of nightstands">
        all faces
      </Strip>
    </StripList>,
  );

test("the chart is one named list with one entry a piece", () => {
  const html = chart(null);
  expect(html).toContain('<ul class="strips" role="list" aria-label="Pieces">');
  expect(html.match(/<li /g)).toHaveLength(2);
});

test("opening one strip leaves the others shut and their contents off the page", () => {
  const html = chart("K-201");
  expect(html.match(/aria-expanded="true"/g)).toHaveLength(1);
  expect(html.match(/aria-expanded="false"/g)).toHaveLength(1);
  expect(html).toContain("fronts against body");
  expect(html).not.toContain("all faces");
});

test("a strip's run says which of the seven stages the piece is in", () => {
  expect(chart(null)).toContain('aria-label="cure, stage 5 of 7"');
});

test("the tag on a strip leads to the piece", () => {
  expect(chart(null)).toContain('href="/pieces/K-201"');
});
