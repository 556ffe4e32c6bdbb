/** Cans on the shelf of the invented shop, one of them old and one that nobody labelled. */
import { idOf } from "./names";
import type { Pen } from "./pen";
import { type ProductCode, productIdOf } from "./products";
import type { Line } from "./script";

type CanPlan = { code: ProductCode; filledMillilitres: number; openedDaysBefore?: number; isLabelled?: boolean };

const cans = {
  "W1-1": { code: "W1", filledMillilitres: 2500, openedDaysBefore: 12 },
  "W1-2": { code: "W1", filledMillilitres: 2500 },
  "W2-1": { code: "W2", filledMillilitres: 2500 },
  "L1-1": { code: "L1", filledMillilitres: 2500 },
  "PR-1": { code: "PR", filledMillilitres: 1000 },
  "O1-1": { code: "O1", filledMillilitres: 1000 },
  "Jam jar": { code: "W2", filledMillilitres: 400, isLabelled: false },
  // from a workshop that closed
  "O2-1": { code: "O2", filledMillilitres: 1000, openedDaysBefore: 430 },
} satisfies Record<string, CanPlan>;
export type CanName = keyof typeof cans;

export const canIdOf = (can: CanName): string => idOf(`can ${can}`);

const written = (pen: Pen, name: CanName) => {
  const { code, filledMillilitres, openedDaysBefore, isLabelled = true }: CanPlan = cans[name];
  return {
    canId: canIdOf(name),
    productId: productIdOf(code),
    label: name,
    filledMillilitres,
    isLabelled,
    ...(openedDaysBefore !== undefined && { openedOn: pen.clock.day(-openedDaysBefore) }),
  };
};

/** What stood there when the shop wrote its cans down. */
export const countingCans = (pen: Pen): Line[] =>
  (Object.keys(cans) as CanName[])
    .filter((name) => name !== "O2-1")
    .map((name) => pen.write("Mon 09:40", "fern", "add-can", written(pen, name)));

/** The old oil can goes onto the shelf list, and a drop of it lies on glass until it is hard. */
export const oldOilCan = (pen: Pen): Line[] => [
  pen.write("Mon 09:15", "sable", "add-can", written(pen, "O2-1")),
  pen.write("Mon 21:45", "sable", "record-test", {
    testId: idOf(`drop of O2-1 ${pen.clock.monday}`),
    subject: { of: "can", canId: canIdOf("O2-1") },
    kind: "drop-on-glass",
    result: "pass",
    note: "Hard to the nail after twelve hours",
  }),
];
