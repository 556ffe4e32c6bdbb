import { accept, type Result, refuse } from "../result";
import type { SheetTime } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";

export type SheetOutOfOrder = { kind: "sheet-out-of-order"; fields: [string, string]; minutes: [number, number] };

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

type OrderedPart = Pick<
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
>;

/**
 * Whether the times of a sheet can be true together: a film is dry to the touch before it is tack-free, tack-free before it
 * takes the next coat, and so on up to full cure; a window opens before it closes; a typical time is the shorter one.
 *
 * @source the order of drying stages in ASTM D1640 and ASTM D5895 (set-to-touch to dry-through), and common practice beyond
 */
export const sheetInOrder = <Part extends OrderedPart>(sheet: Part): Result<Part, SheetOutOfOrder> => {
  const full: Figure = ["fullCure", minOf(sheet.fullCure)];
  const times: [string, SheetTime | "never" | undefined][] = [
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
  const ladder = times.slice(0, 5).map(([field, time]): Figure => [field, minOf(time)]);
  const beside = times.slice(5, -1).map(([field, time]): Figure => [field, minOf(time)]);
  const opens: Figure = ["recoatOpens", minOf(sheet.recoatOpens)];
  const fall =
    firstFall([...ladder, full], true) ??
    beside.map((figure) => firstFall([figure, full], true)).find((found) => found !== undefined) ??
    firstFall(
      [opens, ["recoatClosesMin", sheet.recoatClosesMin], ["recoatReopensMin", sheet.recoatReopensMin]],
      false,
    ) ??
    firstFall(
      [
        ["wipeFromMin", sheet.wipeFromMin],
        ["wipeLatestMin", sheet.wipeLatestMin],
      ],
      false,
    ) ??
    times
      .flatMap(([field, time]) =>
        time === undefined || time === "never"
          ? []
          : [
              firstFall(
                [
                  [`${field}.typicalMin`, time.typicalMin],
                  [`${field}.min`, time.min],
                ],
                true,
              ),
            ],
      )
      .find((found) => found !== undefined);
  return fall ? refuse(fall) : accept(sheet);
};
