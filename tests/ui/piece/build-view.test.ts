import { expect, test } from "vitest";
import { pictureOf } from "~/core/shop/picture";
import { hourMs, minuteMs } from "~/core/units";
import { coatLines } from "~/ui/piece/build-view";
import {
  aCoat,
  aPiece,
  aProduct,
  aReading,
  aSheet,
  aStay,
  aSurface,
  aWetCoat,
  dresser,
  id,
  loft,
  monday8,
  type Rows,
  shopWith,
} from "../../core/support/shop";

const zone = "America/New_York";
// the air stands at the sheet's own 21 °C, so that an hour on the clock is an hour earned
const airOf = (fromAt: number, hours: number) =>
  Array.from({ length: hours + 1 }, (_, hour) =>
    aReading({ id: id(400 + hour), at: fromAt + hour * hourMs, airCelsius: 21, humidityPercent: 50 }),
  );

const build = (rows: Rows, now = monday8) => {
  const facts = shopWith({
    piece: [aPiece()],
    surface: [aSurface()],
    product: [aProduct()],
    sheet: [aSheet()],
    roomStay: [aStay()],
    reading: airOf(monday8 - 6 * hourMs, 12),
    ...rows,
  });
  return coatLines(facts, pictureOf(facts, dresser), aSurface(), now, zone);
};

test("the newest coat stands above, the first at the wood below", () => {
  const lines = build({ coat: [aWetCoat({ id: id(121) }), aCoat({ id: id(122), position: 2 })] });
  expect(lines.map(({ number, standing }) => [number, standing])).toEqual([
    [2, "planned"],
    [1, "laid"],
  ]);
});

test("a coat says when it was finished, by whom and in which air", () => {
  const [line] = build({ coat: [aWetCoat({ id: id(121) })] });
  // laid an hour before Monday 08:00, with a reading at that hour
  expect(line).toMatchObject({ when: "07:00 · Fern", air: "21 °C 50 %", state: "laid" });
});

test("the planned coat says from when it may go on: four hours after the one below at the sheet's own air", () => {
  const lines = build({ coat: [aWetCoat({ id: id(121) }), aCoat({ id: id(122), position: 2 })] });
  // 07:00 and the sheet's 240 minutes
  expect(lines[0]?.next).toBe("may go on from 11:00");
});

test("a struck coat never was; one that was sanded off is told with its time", () => {
  const lines = build({
    coat: [
      aWetCoat({
        id: id(121),
        state: "removed",
        removed: { at: monday8 - 30 * minuteMs, how: "sanded", why: "dust in it" },
      }),
      aCoat({ id: id(122), position: 2, state: "struck" }),
    ],
  });
  expect(lines).toMatchObject([{ standing: "gone", state: "sanded off 07:30" }]);
});

test("a flaw is named until it is mended", () => {
  const flaw = { cause: "fish-eye", seenAt: monday8 };
  expect(build({ coat: [aWetCoat({ id: id(121), state: "flawed", flaw })] })[0]?.state).toBe("flaw: fish eye");
  const mended = { ...flaw, mendedAt: monday8, mend: "sanded flat" };
  expect(build({ coat: [aWetCoat({ id: id(121), state: "mended", flaw: mended })] })[0]?.state).toBe(
    "fish eye, mended",
  );
});

test("a measured wet film stands for the planned one", () => {
  const applied = {
    ...(aWetCoat({ id: id(121) }).applied as NonNullable<ReturnType<typeof aWetCoat>["applied"]>),
    roomId: loft,
  };
  const [line] = build({
    coat: [aWetCoat({ id: id(121), plannedWetFilmMicrometres: 100, applied: { ...applied, wetFilmMicrometres: 120 } })],
  });
  expect(line?.wetFilm).toBe("120 µm");
});
