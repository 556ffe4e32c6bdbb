/** The labour of a week as the page shows it: every figure a sum of the same whole-minute cells, so that all of them agree. */
import type { ShopWeek } from "~/core/calendar";
import { shownMinutes } from "~/core/labour/shown-minutes";
import type { WeekReport } from "~/core/labour/week";
import type { WorkKind } from "~/core/labour/week-totals";
import { type Stage, stages } from "~/core/shop/entities/pieces";
import type { Piece, TimeEntry } from "~/core/shop/tables";
import { agreeingMinutes } from "./agreeing-minutes";

export type WeekAnswer = {
  week: ShopWeek;
  /** Everybody's hours, or the asker's own only. */
  seesAll: boolean;
  entries: TimeEntry[];
  pieces: Pick<Piece, "id" | "number" | "name">[];
  report: WeekReport;
};

export type StageOrShop = Stage | "shop";

export type LabourCell = {
  /** Absent for work for the shop. */
  pieceId?: string;
  memberId: string;
  stage: StageOrShop;
  workKind?: WorkKind;
  minutes: number;
  /** Part of the cell: help on somebody else's task. */
  helpSeconds: number;
  seconds: number;
  entryIds: string[];
};

type Exact = Omit<LabourCell, "minutes">;

const minutesOf = (cells: readonly LabourCell[]): number => cells.reduce((sum, { minutes }) => sum + minutes, 0);

/** The cells of a report in whole minutes: pieces, people and the week are each shown less than a minute off. */
export function labourCells(report: WeekReport): LabourCell[] {
  const exact: Exact[] = [
    ...report.pieceCells,
    ...report.shopCells.map((cell) => ({ ...cell, stage: "shop" as const, helpSeconds: 0 })),
  ];
  const pieceIds = [...report.byPiece.map(({ pieceId }) => pieceId as string | undefined), undefined];
  const memberIds = report.byMember.map(({ memberId }) => memberId);
  const table = pieceIds.map((pieceId) =>
    memberIds.map((memberId) => exact.filter((cell) => cell.pieceId === pieceId && cell.memberId === memberId)),
  );
  const seconds = (cells: readonly Exact[]) => cells.map((cell) => cell.seconds);
  const totals = agreeingMinutes(
    table.map((row) => row.map((cells) => seconds(cells).reduce((sum, one) => sum + one, 0))),
  );
  return table.flatMap((row, index) =>
    row.flatMap((cells, column) => {
      const minutes = shownMinutes(seconds(cells), totals[index]?.[column]);
      return cells.map((cell, place) => ({ ...cell, minutes: minutes[place] as number }));
    }),
  );
}

export type PieceLabour = {
  /** Absent for work for the shop. */
  pieceId?: string;
  minutes: number;
  parts: { stage: StageOrShop; minutes: number }[];
  members: { memberId: string; minutes: number }[];
  cells: LabourCell[];
};

/** A row for each piece in the order of their numbers, and one for the shop when anybody worked for it. */
export function labourByPiece(cells: readonly LabourCell[]): PieceLabour[] {
  return groupsOf(cells, (cell) => cell.pieceId).map(([pieceId, ofPiece]) => ({
    pieceId,
    minutes: minutesOf(ofPiece),
    parts: inStageOrder(groupsOf(ofPiece, (cell) => cell.stage)).map(([stage, part]) => ({
      stage,
      minutes: minutesOf(part),
    })),
    members: groupsOf(ofPiece, (cell) => cell.memberId).map(([memberId, part]) => ({
      memberId,
      minutes: minutesOf(part),
    })),
    cells: ofPiece,
  }));
}

export type PersonLabour = {
  memberId: string;
  minutes: number;
  minutesByStage: ReadonlyMap<StageOrShop, number>;
  rows: { pieceId?: string; minutes: number; minutesByStage: ReadonlyMap<StageOrShop, number> }[];
};

export function labourByPerson(cells: readonly LabourCell[]): PersonLabour[] {
  return groupsOf(cells, (cell) => cell.memberId).map(([memberId, ofMember]) => ({
    memberId,
    minutes: minutesOf(ofMember),
    minutesByStage: stageSums(ofMember),
    rows: groupsOf(ofMember, (cell) => cell.pieceId).map(([pieceId, ofPiece]) => ({
      pieceId,
      minutes: minutesOf(ofPiece),
      minutesByStage: stageSums(ofPiece),
    })),
  }));
}

/** Stages in the order in which work walks through them, the shop last. */
export function stageSums(cells: readonly LabourCell[]): ReadonlyMap<StageOrShop, number> {
  return new Map(inStageOrder(groupsOf(cells, (cell) => cell.stage)).map(([stage, part]) => [stage, minutesOf(part)]));
}

const stageOrder: readonly StageOrShop[] = [...stages, "shop"];

const inStageOrder = <Value>(groups: [StageOrShop, Value][]): [StageOrShop, Value][] =>
  groups.sort(([one], [other]) => stageOrder.indexOf(one) - stageOrder.indexOf(other));

/** Groups in the order in which their first cell stands. */
function groupsOf<Key>(cells: readonly LabourCell[], keyOf: (cell: LabourCell) => Key): [Key, LabourCell[]][] {
  const groups = new Map<Key, LabourCell[]>();
  for (const cell of cells) {
    const group = groups.get(keyOf(cell));
    if (group) group.push(cell);
    else groups.set(keyOf(cell), [cell]);
  }
  return [...groups];
}

/** What a week with a change of the clocks says about itself. */
export function clockChangeWords({ hours }: Pick<ShopWeek, "hours">): string | undefined {
  if (hours === 168) return undefined;
  return hours > 168 ? `${hours} hours: the clocks go back in it` : `${hours} hours: the clocks go forward in it`;
}
