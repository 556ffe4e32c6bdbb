/** A data sheet as it is read at arm's length: its times as a ladder, then its limits, film, mix and life. */
import { neededTime } from "~/core/cure/needed-time";
import type { Family, SheetTime } from "~/core/shop/entities/products";
import type { Sheet } from "~/core/shop/tables";
import { celsius, duration, humidity } from "~/ui/format";
import { familyWords, wrapWords } from "~/ui/trade-words";
import { sheetFieldWords } from "./sheet-words";

/** Who says a figure: the can, or the run of data sheets of its type. */
export type Source = "can" | "typical";

export type Rung = {
  id: string;
  words: string;
  /** "4 h", "7 days", "never". */
  time: string;
  /** "often from 2 h": the short end, which only the likely time goes by. */
  often?: string;
  source: Source;
  /** How far up the ladder it stands, 0…1 by the logarithm of its time; nothing for never. */
  height?: number;
};

export type FigureLine = { id: string; words: string; figure: string; source: Source };
export type SheetPart = {
  id: "window" | "air" | "film" | "mix" | "life" | "joint" | "over";
  words: string;
  lines: FigureLine[];
};

/** Long times in days, where they are whole ones; "7 days", "36 h", "45 min". */
export const timeWords = (minutes: number): string => {
  const days = minutes / 1440;
  return days >= 2 && Number.isInteger(days) ? `${days} days` : duration(minutes * 60);
};

type Field = keyof Sheet;
const same = (one: unknown, other: unknown) => JSON.stringify(one) === JSON.stringify(other);

/**
 * Which figures of a version still are the typical ones. A shop starts from them and edits; what an edit leaves as it was,
 * nobody read from a can.
 *
 * @param versions of one product, any order
 */
export function typicalFields(versions: readonly Sheet[], sheet: Sheet): ReadonlySet<string> {
  const ordered = versions
    .filter(({ version }) => version <= sheet.version)
    .sort((one, other) => one.version - other.version);
  let typical = new Set<string>();
  let before: Sheet | undefined;
  for (const version of ordered) {
    const fields = Object.keys(version) as Field[];
    const kept = (field: Field) => typical.has(field) && before !== undefined && same(before[field], version[field]);
    typical = new Set(fields.filter((field) => version.origin === "generic" || kept(field)));
    before = version;
  }
  return typical;
}

const logHeight = (minutes: number) => Math.log10(Math.max(1, minutes)) / Math.log10(60 * 1440);

const ladder = [
  ["set-to-touch", "setToTouch"],
  ["tack-free", "tackFree"],
  ["recoat-opens", "recoatOpens"],
  ["handle", "handle"],
  ["light-use", "lightUse"],
  ["press-together", "pressTogether"],
  ["full-cure", "fullCure"],
] as const;

const rung = (id: Field, time: SheetTime | "never", source: Source): Rung => {
  const words = sheetFieldWords(id);
  if (time === "never") return { id, words, time: "never", source };
  const min = Math.round(time.min);
  const often = time.typicalMin === undefined ? undefined : Math.round(time.typicalMin);
  return {
    id,
    words,
    time: timeWords(min),
    source,
    height: logHeight(min),
    ...(often !== undefined && often < min && { often: `often from ${timeWords(often)}` }),
  };
};

/** What a joint waits for. */
const jointRungs = (sheet: Sheet, typical: ReadonlySet<string>): Rung[] =>
  (["openTimeMin", "clampMin", "fullStrengthMin"] as const).flatMap((field) => {
    const min = sheet[field];
    return min === undefined ? [] : [rung(field, { min }, typical.has(field) ? "typical" : "can")];
  });

/**
 * The times that gates wait for, weakest first; of a glue, those of its joint. Where the sheet is silent stands what the
 * gates go by in its place, and it is said to be the usual time of its type.
 */
export function rungsOf(sheet: Sheet, family: Family, typical: ReadonlySet<string>): Rung[] {
  if (family === "glue") return jointRungs(sheet, typical);
  return ladder.map(([milestone, field]): Rung => {
    // light use that the can leaves out is handling
    const stated = sheet[field] !== undefined ? field : field === "lightUse" && sheet.handle ? "handle" : undefined;
    const source: Source = stated === undefined || typical.has(stated) ? "typical" : "can";
    return rung(field, neededTime(sheet, family, { milestone }, true), source);
  });
}

const oilWords: Record<Sheet["isOilBearing"], string> = {
  yes: "yes: its rags can burn by themselves",
  no: "no",
  unknown: "not known: its rags count as oily",
};

export const ruleWords: Record<"Y" | "S" | "D" | "B" | "T", string> = {
  Y: "yes",
  S: "scuffed",
  D: "once it has cured",
  B: "with a barrier between",
  T: "after a test",
};

const overWords = (line: Sheet["over"][number]): string =>
  line.isNever
    ? "never"
    : [
        line.rule && ruleWords[line.rule],
        line.waitMin !== undefined && `after ${timeWords(line.waitMin)}`,
        line.barrierFamily !== undefined &&
          `${line.waitMin === undefined ? "with" : "or with"} ${familyWords[line.barrierFamily]} between`,
      ]
        .filter(Boolean)
        .join(", ") || "yes";

const figures: { [Name in Field]?: (value: NonNullable<Sheet[Name]>) => string } = {
  recoatClosesMin: timeWords,
  recoatReopensMin: timeWords,
  wipeFromMin: timeWords,
  wipeLatestMin: timeWords,
  scuffAlways: (isAlways) => (isAlways ? "yes" : "only past the window"),
  referenceCelsius: celsius,
  referenceHumidityPercent: humidity,
  minimumCelsius: celsius,
  maximumCelsius: celsius,
  humidityLimitPercent: humidity,
  dewSpreadCelsius: (spread) => `at least ${celsius(spread)}`,
  volumeSolidsPercent: (percent) => `${percent} %`,
  wetFilmMicrometres: (film) => `${film} µm`,
  spreadSquareMetresPerLitre: (spread) => `${spread} m²/L`,
  densityGramsPerLitre: (density) => `${density} g/L`,
  vocGramsPerLitre: (voc) => `${voc} g/L`,
  isOilBearing: (has) => oilWords[has],
  thinner: (thinner) => thinner,
  thinParts: ({ product, thinner }) => `${product} parts to ${thinner} of thinner`,
  thinLimitPercent: (percent) => (percent === 0 ? "never thinned" : `${percent} % of the product`),
  hardenerPartsPerMille: (parts) => `${parts / 10} parts to 100`,
  inductionMin: timeWords,
  potLifeMin: timeWords,
  openTimeMin: timeWords,
  clampMin: timeWords,
  fullStrengthMin: timeWords,
  chalkCelsius: celsius,
  shelfUnopenedDays: (days) => `${days} days`,
  shelfOpenedDays: (days) => `${days} days`,
};

const parts: { id: SheetPart["id"]; words: string; fields: Field[] }[] = [
  {
    id: "window",
    words: "Between coats",
    fields: ["recoatClosesMin", "recoatReopensMin", "scuffAlways", "wipeFromMin", "wipeLatestMin"],
  },
  {
    id: "air",
    words: "Air",
    fields: [
      "minimumCelsius",
      "maximumCelsius",
      "humidityLimitPercent",
      "dewSpreadCelsius",
      "referenceCelsius",
      "referenceHumidityPercent",
    ],
  },
  {
    id: "film",
    words: "Film",
    fields: [
      "volumeSolidsPercent",
      "wetFilmMicrometres",
      "spreadSquareMetresPerLitre",
      "densityGramsPerLitre",
      "vocGramsPerLitre",
      "isOilBearing",
    ],
  },
  { id: "joint", words: "Joint", fields: ["chalkCelsius"] },
  {
    id: "mix",
    words: "Mix",
    fields: ["thinner", "thinParts", "thinLimitPercent", "hardenerPartsPerMille", "inductionMin", "potLifeMin"],
  },
  { id: "life", words: "Life of a can", fields: ["shelfUnopenedDays", "shelfOpenedDays"] },
];

/** Everything beside the ladder, in parts; a part of which the sheet says nothing is left out. */
export function partsOf(sheet: Sheet, family: Family, typical: ReadonlySet<string>): SheetPart[] {
  const sourceOf = (field: string): Source => (typical.has(field) ? "typical" : "can");
  const isGlue = family === "glue";
  const shown = parts
    .filter(({ id }) => !(isGlue && id === "window"))
    .map(({ id, words, fields }): SheetPart => {
      const lines = fields.flatMap((field): FigureLine[] => {
        const value = sheet[field];
        const figure = figures[field] as ((value: unknown) => string) | undefined;
        if (value === undefined || !figure) return [];
        return [{ id: field, words: sheetFieldWords(field), figure: figure(value), source: sourceOf(field) }];
      });
      if (id !== "window") return { id, words, lines };
      const between = [
        ...sheet.stackWith.map(
          ({ material, time }): FigureLine => ({
            id: `stack ${material}`,
            words: sheetFieldWords(`stackWith.${material}`),
            figure: `from ${timeWords(time.min)}`,
            source: sourceOf("stackWith"),
          }),
        ),
        ...sheet.wrap.map(
          ({ wrap, time }): FigureLine => ({
            id: `wrap ${wrap}`,
            words: `Wrapped in ${wrapWords[wrap]}`,
            figure: time === "never" ? "never" : `from ${timeWords(time.min)}`,
            source: sourceOf("wrap"),
          }),
        ),
      ];
      return { id, words: "Coats, stacks, wraps", lines: [...lines, ...between] };
    });
  const over: SheetPart = {
    id: "over",
    words: "Over another finish",
    lines: sheet.over.map((line) => ({
      id: line.underFamily,
      words: familyWords[line.underFamily],
      figure: overWords(line),
      source: sourceOf("over"),
    })),
  };
  return [...shown, over].filter(({ lines }) => lines.length > 0);
}
