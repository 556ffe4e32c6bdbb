/** The cells of a report and the totals over them: every total is a sum of cells, to the second. */
import { byCodePoint } from "../money/apportion";
import type { MemberId, PieceId } from "../shop/entities/ids";
import { type Stage, stages } from "../shop/entities/pieces";
import type { TimeEntry } from "../shop/tables";
import type { SplitFacts, Subject } from "./split";

export type WorkKind = TimeEntry["workKind"];

export type PieceCell = {
  pieceId: PieceId;
  memberId: MemberId;
  stage: Stage;
  seconds: number;
  /** Part of `seconds`: work on tasks that somebody else held. */
  helpSeconds: number;
  entryIds: string[];
};
/** Time for the shop: entries without a piece. */
export type ShopCell = { memberId: MemberId; workKind: WorkKind; seconds: number; entryIds: string[] };

export type MemberTotal = {
  memberId: MemberId;
  pieceSeconds: number;
  shopSeconds: number;
  /** `pieceSeconds` and `shopSeconds` together: what the person's cells add up to. */
  bookedSeconds: number;
  /** Each moment once: less than booked while an overlap waits to be settled. */
  workedSeconds: number;
};

export type Totals = {
  pieceCells: PieceCell[];
  shopCells: ShopCell[];
  byPiece: { pieceId: PieceId; seconds: number }[];
  byStage: { stage: Stage; seconds: number }[];
  byMember: MemberTotal[];
  pieceSeconds: number;
  shopSeconds: number;
  bookedSeconds: number;
  workedSeconds: number;
};

export function addShopTime(cells: Map<string, ShopCell>, entry: TimeEntry, seconds: number): void {
  const { memberId, workKind } = entry;
  const key = `${memberId} ${workKind}`;
  const cell = cells.get(key) ?? { memberId, workKind, seconds: 0, entryIds: [] };
  cells.set(key, cell);
  cell.seconds += seconds;
  cell.entryIds.push(entry.id);
}

export function addPieceTime(
  cells: Map<string, PieceCell>,
  { id: entryId, memberId }: TimeEntry,
  { pieceId, stage }: Subject,
  seconds: number,
  isHelp: boolean,
): void {
  const key = `${pieceId} ${memberId} ${stage}`;
  const cell = cells.get(key) ?? { pieceId, memberId, stage, seconds: 0, helpSeconds: 0, entryIds: [] };
  cells.set(key, cell);
  cell.seconds += seconds;
  if (isHelp) cell.helpSeconds += seconds;
  // a piece may be named twice in one entry, for two tasks
  if (cell.entryIds.at(-1) !== entryId) cell.entryIds.push(entryId);
}

export function totalsOf(
  pieceCells: PieceCell[],
  shopCells: ShopCell[],
  workedByMember: ReadonlyMap<MemberId, number>,
  { numberOf }: Pick<SplitFacts, "numberOf">,
): Totals {
  const byPiece = new Map<PieceId, number>();
  const byStage = new Map<Stage, number>(stages.map((stage) => [stage, 0]));
  const onPieces = new Map<MemberId, number>();
  const forShop = new Map<MemberId, number>();
  const add = <Key>(totals: Map<Key, number>, key: Key, seconds: number) =>
    totals.set(key, (totals.get(key) ?? 0) + seconds);
  for (const { pieceId, memberId, stage, seconds } of pieceCells) {
    add(byPiece, pieceId, seconds);
    add(byStage, stage, seconds);
    add(onPieces, memberId, seconds);
  }
  for (const { memberId, seconds } of shopCells) add(forShop, memberId, seconds);

  const byMember = [...workedByMember].map(([memberId, workedSeconds]): MemberTotal => {
    const [pieceSeconds, shopSeconds] = [onPieces.get(memberId) ?? 0, forShop.get(memberId) ?? 0];
    return { memberId, pieceSeconds, shopSeconds, bookedSeconds: pieceSeconds + shopSeconds, workedSeconds };
  });
  const sum = (rows: readonly number[]) => rows.reduce((total, row) => total + row, 0);
  const byPieceOrder = (a: { pieceId: PieceId }, b: { pieceId: PieceId }) =>
    byCodePoint(numberOf(a.pieceId), numberOf(b.pieceId)) || byCodePoint(a.pieceId, b.pieceId);
  const byMemberOrder = (a: { memberId: MemberId }, b: { memberId: MemberId }) => byCodePoint(a.memberId, b.memberId);
  const pieceSeconds = sum([...byPiece.values()]);
  const shopSeconds = sum([...forShop.values()]);
  return {
    pieceCells: pieceCells.sort(
      (a, b) => byPieceOrder(a, b) || byMemberOrder(a, b) || stages.indexOf(a.stage) - stages.indexOf(b.stage),
    ),
    shopCells: shopCells.sort((a, b) => byMemberOrder(a, b) || byCodePoint(a.workKind, b.workKind)),
    byPiece: [...byPiece].map(([pieceId, seconds]) => ({ pieceId, seconds })).sort(byPieceOrder),
    byStage: [...byStage].map(([stage, seconds]) => ({ stage, seconds })),
    byMember: byMember.sort(byMemberOrder),
    pieceSeconds,
    shopSeconds,
    bookedSeconds: pieceSeconds + shopSeconds,
    workedSeconds: sum([...workedByMember.values()]),
  };
}
