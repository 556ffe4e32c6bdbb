import { accept, type Result, refuse } from "../result";
import type { SheetTime } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";

/** Two figures of a sheet that cannot both be true: the first must not be above the second. */
export type SheetOutOfOrder =
  | { kind: "sheet-out-of-order"; fields: [string, string]; minutes: [number, number] }
  | { kind: "sheet-out-of-order"; fields: [string, string]; celsius: [number, number] };

type Figure = readonly [field: string, minutes: number | undefined];

const minOf = (time: SheetTime | "never" | undefined) =>
  time === undefined || time === "never" ? undefined : time.min;

/** The first pair of stated figures that does not rise; figures that the sheet leaves out are passed over. */
const firstFall = (figures: readonly Figure[], mayBeEqual: boolean): SheetOutOfOrder | undefined => {
  const stated = figures.filter((figure): figure is [string, number] => figure[1] !== undefined);
  for (let index = 1; index < stated.length; index += 1) {
    const [before, after] = [stated[index - 1] as [string, number], stated[index] as [string, number]];
    if (mayBeEqual ? after[1] >= before[1] : after[1] > before[1]) continue;
    return { kind: "sheet-out-of-order", fields: [before[0], after[0]], minutes: [before[1], after[1]] };
  }
  return undefined;
};

const warmerFirst = (lower: [string, number | undefined], upper: [string, number]): SheetOutOfOrder | undefined =>
  lower[1] === undefined || lower[1] <= upper[1]
    ? undefined
    : { kind: "sheet-out-of-order", fields: [lower[0], upper[0]], celsius: [lower[1], upper[1]] };

type Timed = Pick<
  Sheet,
  | "setToTouch"
  | "tackFree"
  | "recoatOpens"
  | "handle"
  | "lightUse"
  | "fullCure"
  | "pressTogether"
  | "stackWith"
  | "wrap"
  | "recoatClosesMin"
  | "recoatReopensMin"
  | "wipeFromMin"
  | "wipeLatestMin"
  | "inductionMin"
  | "potLifeMin"
  | "clampMin"
  | "fullStrengthMin"
>;
type OrderedPart = Timed & Pick<Sheet, "chalkCelsius" | "referenceCelsius" | "minimumCelsius" | "maximumCelsius">;

/** Windows and waits: each must end later than it begins. */
const spans = (sheet: Timed): Figure[][] => [
  [
    ["recoatOpens", minOf(sheet.recoatOpens)],
    ["recoatClosesMin", sheet.recoatClosesMin],
    ["recoatReopensMin", sheet.recoatReopensMin],
  ],
  [
    ["wipeFromMin", sheet.wipeFromMin],
    ["wipeLatestMin", sheet.wipeLatestMin],
  ],
  [
    ["inductionMin", sheet.inductionMin],
    ["potLifeMin", sheet.potLifeMin],
  ],
];

const timesOf = (sheet: Timed): [string, SheetTime | "never" | undefined][] => [
  ["setToTouch", sheet.setToTouch],
  ["tackFree", sheet.tackFree],
  ["recoatOpens", sheet.recoatOpens],
  ["handle", sheet.handle],
  ["lightUse", sheet.lightUse],
  ["pressTogether", sheet.pressTogether],
  ...sheet.stackWith.map(({ material, time }): [string, SheetTime] => [`stackWith.${material}`, time]),
  ...sheet.wrap.map(({ wrap, time }): [string, SheetTime | "never"] => [`wrap.${wrap}`, time]),
  ["fullCure", sheet.fullCure],
];

/** The typical time feeds the likely answer alone and is the shorter one. */
const typicalFall = ([field, time]: [string, SheetTime | "never" | undefined]) =>
  time === undefined || time === "never"
    ? undefined
    : firstFall(
        [
          [`${field}.typicalMin`, time.typicalMin],
          [`${field}.min`, time.min],
        ],
        true,
      );

const firstOf = <Item>(items: readonly Item[], fault: (item: Item) => SheetOutOfOrder | undefined) => {
  for (const item of items) {
    const found = fault(item);
    if (found) return found;
  }
  return undefined;
};

/**
 * Whether the figures of a sheet can be true together: a film is dry to the touch before it is tack-free, tack-free before
 * it takes the next coat, and so on up to full cure; a window opens before it closes; a mix may be used before it must be
 * thrown out; a joint holds its clamps' pull before its full strength; glue that turns to chalk at its own reference could
 * not have been tested there; a typical time is the shorter one.
 *
 * @source the order of drying stages in ASTM D1640 and ASTM D5895 (set-to-touch to dry-through), and common practice beyond
 */
export const sheetInOrder = <Part extends OrderedPart>(sheet: Part): Result<Part, SheetOutOfOrder> => {
  const full: Figure = ["fullCure", minOf(sheet.fullCure)];
  const times = timesOf(sheet);
  const ladder = times.slice(0, 5).map(([field, time]): Figure => [field, minOf(time)]);
  const beside = times.slice(5, -1).map(([field, time]): Figure => [field, minOf(time)]);
  const joint: Figure[] = [
    ["clampMin", sheet.clampMin],
    ["fullStrengthMin", sheet.fullStrengthMin],
  ];
  const fall =
    firstFall([...ladder, full], true) ??
    firstOf(beside, (figure) => firstFall([figure, full], true)) ??
    firstOf(spans(sheet), (figures) => firstFall(figures, false)) ??
    firstFall(joint, true) ??
    warmerFirst(["minimumCelsius", sheet.minimumCelsius], ["maximumCelsius", sheet.maximumCelsius]) ??
    warmerFirst(["chalkCelsius", sheet.chalkCelsius], ["referenceCelsius", sheet.referenceCelsius]) ??
    firstOf(times, typicalFall);
  return fall ? refuse(fall) : accept(sheet);
};

/** What is odd on a sheet, though it could be so. */
export type SheetRemark =
  | { kind: "opened-outlasts-unopened"; shelfOpenedDays: number; shelfUnopenedDays: number }
  /** A litre spread over so much would lie thinner than the film that the sheet asks for. */
  | { kind: "spread-thins-film"; spreadSquareMetresPerLitre: number; wetFilmMicrometres: number };

/**
 * What somebody should look at again on the can: an opened can that outlasts a closed one, and an area per litre that the
 * wet film forbids (1000 µm of a litre cover one square metre, by arithmetic).
 */
export const sheetRemarks = (
  sheet: Pick<Sheet, "shelfOpenedDays" | "shelfUnopenedDays" | "spreadSquareMetresPerLitre" | "wetFilmMicrometres">,
): SheetRemark[] => {
  const { shelfOpenedDays, shelfUnopenedDays, spreadSquareMetresPerLitre, wetFilmMicrometres } = sheet;
  const remarks: SheetRemark[] = [];
  if (shelfOpenedDays !== undefined && shelfUnopenedDays !== undefined && shelfOpenedDays > shelfUnopenedDays)
    remarks.push({ kind: "opened-outlasts-unopened", shelfOpenedDays, shelfUnopenedDays });
  // a tenth over is the rounding of labels
  const isThinner =
    spreadSquareMetresPerLitre !== undefined &&
    wetFilmMicrometres !== undefined &&
    spreadSquareMetresPerLitre * wetFilmMicrometres > 1100;
  if (isThinner) remarks.push({ kind: "spread-thins-film", spreadSquareMetresPerLitre, wetFilmMicrometres });
  return remarks;
};
