/**
 * The cans on the shelf of the invented shop: types, no brands, and figures that are made up. Times that a sheet leaves
 * out are the generic type's.
 */
import type { Product, Sheet } from "~/core/shop/tables";
import { idOf } from "./names";
import type { Pen } from "./pen";
import type { Line } from "./script";

type SheetPlan = Partial<Sheet> & Pick<Sheet, "mechanism" | "minimumCelsius">;
type ProductPlan = Pick<Product, "name" | "family" | "colour"> & { sheet: SheetPlan };

const hours = (count: number) => ({ min: count * 60 });

/** Fast solvents want the surface so far above the dew point. Source: 20 °F, common practice of the spray trade. */
const solventSpread = 11.1;

export const products = {
  W1: {
    name: "W1 satin enamel",
    family: "water-borne-paint",
    colour: "pale linen",
    sheet: {
      mechanism: "water-borne",
      minimumCelsius: 10,
      humidityLimitPercent: 70,
      recoatOpens: hours(4),
      handle: hours(24),
      pressTogether: hours(96),
      wrap: [{ wrap: "plastic", time: hours(168) }],
    },
  },
  W2: {
    name: "W2 clear satin",
    family: "water-borne-clear",
    sheet: {
      mechanism: "water-borne",
      minimumCelsius: 10,
      humidityLimitPercent: 70,
      recoatOpens: hours(2.5),
      handle: hours(24),
      pressTogether: hours(72),
      wrap: [{ wrap: "plastic", time: hours(168) }],
      over: [{ underFamily: "oil-stain", waitMin: 72 * 60, barrierFamily: "shellac", isNever: false }],
    },
  },
  O1: {
    name: "O1 oil colour coat",
    family: "oil-stain",
    colour: "walnut brown",
    sheet: { mechanism: "oxidative", minimumCelsius: 10, recoatOpens: hours(24), isOilBearing: "yes" },
  },
  O2: {
    name: "O2 wipe-on oil varnish",
    family: "oil-varnish",
    sheet: {
      mechanism: "oxidative",
      minimumCelsius: 13,
      recoatOpens: hours(12),
      handle: hours(36),
      pressTogether: hours(168),
      fullCure: hours(720),
      scuffAlways: true,
      isOilBearing: "yes",
      wetFilmMicrometres: 80,
    },
  },
  L1: {
    name: "L1 solvent lacquer",
    family: "lacquer",
    sheet: {
      mechanism: "solvent",
      minimumCelsius: 15,
      dewSpreadCelsius: solventSpread,
      recoatOpens: hours(0.75),
      handle: hours(4),
      pressTogether: "never",
      stackWith: [{ material: "paper", time: hours(24) }],
      wrap: [
        { wrap: "snug-paper", time: hours(48) },
        { wrap: "plastic", time: "never" },
      ],
      volumeSolidsPercent: 28,
      // dries to 25 µm
      wetFilmMicrometres: 89,
    },
  },
  PR: {
    name: "PR shellac stain blocker",
    family: "shellac-blocker",
    sheet: {
      mechanism: "solvent",
      minimumCelsius: 10,
      dewSpreadCelsius: solventSpread,
      recoatOpens: hours(1),
      over: [{ underFamily: "oil-stain", isNever: false, rule: "Y" }],
    },
  },
  G1: {
    name: "G1 white glue",
    family: "glue",
    sheet: {
      mechanism: "glue",
      minimumCelsius: 10,
      referenceCelsius: 21,
      chalkCelsius: 10,
      clampMin: 60,
      fullStrengthMin: 24 * 60,
    },
  },
} satisfies Record<string, ProductPlan>;
export type ProductCode = keyof typeof products;

export const productIdOf = (code: ProductCode): string => idOf(`product ${code}`);
export const sheetIdOf = (code: ProductCode): string => idOf(`sheet ${code}`);

const fullSheet = (sheet: SheetPlan) => ({
  referenceCelsius: 25,
  referenceHumidityPercent: 50,
  maximumCelsius: 32,
  dewSpreadCelsius: 3,
  stackWith: [],
  wrap: [],
  scuffAlways: false,
  isOilBearing: "no",
  over: [],
  ...sheet,
});

export const stockingShelf = ({ write }: Pen): Line[] =>
  (Object.keys(products) as ProductCode[]).map((code) => {
    const { sheet, ...product }: ProductPlan = products[code];
    const ids = { productId: productIdOf(code), sheetId: sheetIdOf(code) };
    return write("Mon 09:30", "fern", "add-product", { ...ids, ...product, sheet: fullSheet(sheet) });
  });
