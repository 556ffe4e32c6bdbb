/** A data sheet while it is written, and the fields that come of it. What nobody touched stays exactly as it was. */
import { sheetInOrder } from "~/core/coating/sheet-order";
import type { Family, SheetTime } from "~/core/shop/entities/products";
import type { RefusalOf } from "~/core/shop/refusal";
import type { Sheet } from "~/core/shop/tables";
import { type FigureField, fieldsOf } from "./sheet-fields";

export type SheetFields = Omit<Sheet, "id" | "productId" | "version" | "origin">;
export type OverLine = Sheet["over"][number];

export type SheetDraft = {
  /** By path, in the form's unit; NaN where nothing is written. A short end has `.typicalMin` behind its path. */
  figures: Record<string, number>;
  /** Paths of what this film never does. */
  nevers: string[];
  thinner: string;
  isOilBearing: Sheet["isOilBearing"];
  scuffAlways: boolean;
  over: OverLine[];
};

type Time = SheetTime | "never" | undefined;

const timeAt = (sheet: SheetFields, path: string): Time | number => {
  const [field, part] = path.split(".") as [keyof SheetFields, string | undefined];
  if (field === "stackWith") return sheet.stackWith.find(({ material }) => material === part)?.time;
  if (field === "wrap") return sheet.wrap.find(({ wrap }) => wrap === part)?.time;
  if (field === "thinParts") return sheet.thinParts?.[part as "product" | "thinner"];
  return sheet[field] as Time | number;
};

const shownOf = (minutes: number | undefined, field: FigureField) =>
  minutes === undefined ? Number.NaN : Math.round((minutes / field.times) * 1e4) / 1e4;

/** What the form shows of a sheet. */
export function draftOf(sheet: SheetFields, family: Family): SheetDraft {
  const figures: SheetDraft["figures"] = {};
  const nevers: string[] = [];
  for (const field of fieldsOf(family)) {
    const value = timeAt(sheet, field.path);
    if (value === "never") nevers.push(field.path);
    const isTime = typeof value === "object";
    const safe = isTime ? value.min : typeof value === "number" ? value : undefined;
    figures[field.path] = shownOf(safe, field);
    if (field.hasShortEnd) figures[`${field.path}.typicalMin`] = shownOf(isTime ? value.typicalMin : undefined, field);
  }
  const { isOilBearing, scuffAlways, over, thinner = "" } = sheet;
  return { figures, nevers, thinner, isOilBearing, scuffAlways, over };
}

const writtenValue = (draft: SheetDraft, field: FigureField, path = field.path): number | undefined => {
  const shown = draft.figures[path];
  if (shown === undefined || Number.isNaN(shown)) return undefined;
  const value = shown * field.times;
  return field.times === 1 ? value : Math.max(1, Math.round(value));
};

const isUntouched = (draft: SheetDraft, before: SheetDraft, path: string) =>
  Object.is(draft.figures[path], before.figures[path]) &&
  Object.is(draft.figures[`${path}.typicalMin`], before.figures[`${path}.typicalMin`]) &&
  draft.nevers.includes(path) === before.nevers.includes(path);

/** A time as it was, where nobody touched it; else as it stands in the form. */
const timeOf = (draft: SheetDraft, before: SheetDraft, was: Time, field: FigureField): Time => {
  if (isUntouched(draft, before, field.path)) return was;
  if (draft.nevers.includes(field.path)) return "never";
  const min = writtenValue(draft, field);
  if (min === undefined) return undefined;
  const typicalMin = field.hasShortEnd ? writtenValue(draft, field, `${field.path}.typicalMin`) : undefined;
  return typicalMin === undefined ? { min } : { min, typicalMin };
};

type Lines<Key extends string> = { [Name in Key]: string } & { time: SheetTime | "never" };

/** The lines of stacks or wraps: those in the form as written, others as they were. */
const linesOf = <Line extends Lines<Key>, Key extends "material" | "wrap">(
  lines: readonly Line[],
  key: Key,
  written: readonly { part: string; time: Time }[],
): Line[] => [
  ...written.flatMap(({ part, time }) => (time === undefined ? [] : [{ [key]: part, time } as unknown as Line])),
  ...lines.filter((line) => !written.some(({ part }) => part === line[key])),
];

/** The fields of the sheet that the form stands for, over the sheet that it began with. */
export function fieldsOfDraft(draft: SheetDraft, from: SheetFields, family: Family): SheetFields {
  const before = draftOf(from, family);
  const sheet: Record<string, unknown> = { ...from };
  const stacks: { part: string; time: Time }[] = [];
  const wraps: { part: string; time: Time }[] = [];
  for (const field of fieldsOf(family)) {
    const [name, part] = field.path.split(".") as [string, string | undefined];
    const was = timeAt(from, field.path);
    if (name === "thinParts") continue;
    if (part !== undefined) {
      const time = timeOf(draft, before, was as Time, field);
      (name === "wrap" ? wraps : stacks).push({ part, time });
    } else if (field.hasShortEnd) sheet[name] = timeOf(draft, before, was as Time, field);
    else if (!isUntouched(draft, before, field.path)) sheet[name] = writtenValue(draft, field);
  }
  const [product, thinner] = [draft.figures["thinParts.product"], draft.figures["thinParts.thinner"]];
  const hasParts = product !== undefined && thinner !== undefined && !Number.isNaN(product) && !Number.isNaN(thinner);
  const written = draft.thinner.trim();
  const fields = {
    ...sheet,
    stackWith: linesOf(from.stackWith, "material", stacks),
    wrap: linesOf(from.wrap, "wrap", wraps),
    thinner: written === "" ? undefined : written,
    thinParts: hasParts ? { product, thinner } : undefined,
    isOilBearing: draft.isOilBearing,
    scuffAlways: draft.scuffAlways,
    over: draft.over,
  } as unknown as SheetFields;
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as SheetFields;
}

/** What the form must have, by path; the air of the times and its limits are the least that a sheet says. */
export function missingFigures(draft: SheetDraft): string[] {
  const needed = [
    "minimumCelsius",
    "maximumCelsius",
    "dewSpreadCelsius",
    "referenceCelsius",
    "referenceHumidityPercent",
  ];
  return needed.filter((path) => draft.figures[path] === undefined || Number.isNaN(draft.figures[path]));
}

/** The two figures that disagree, as the rule will find them. */
export function disagreeing(fields: SheetFields): RefusalOf<"sheet-out-of-order"> | undefined {
  const order = sheetInOrder(fields);
  return order.ok ? undefined : order.refusal;
}
