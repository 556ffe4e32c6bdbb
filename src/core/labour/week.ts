/**
 * The hours of a week, or of any other span: seconds per piece, person and stage, with the entries behind every number.
 * Every total is the sum of its cells to the second; nothing is rounded here.
 */
import type { MemberId } from "../shop/entities/ids";
import type { Claim, Piece, TimeEntry } from "../shop/tables";
import type { InstantMs } from "../units";
import { secondsWithin, spanOf, type WorkSpan, wordNeeded } from "./entry";
import { type Forgotten, forgotten, longRunMs } from "./forgotten";
import { helpJudge } from "./help";
import { type MemberOverlap, type PersonSpan, unionOf } from "./overlap";
import { type SplitFacts, splitShares, splitWithin } from "./split";
import { addPieceTime, addShopTime, type PieceCell, type ShopCell, type Totals, totalsOf } from "./week-totals";

export type RunningTimer = Forgotten & { entryId: string; memberId: MemberId; startedAt: InstantMs; seconds: number };
export type WaitingEntry = {
  entryId: string;
  memberId: MemberId;
  why: NonNullable<TimeEntry["needsWord"]>;
  seconds: number;
};

export type WeekReport = Totals & {
  /** Counted until now, and still growing. */
  running: RunningTimer[];
  /** Not counted until the owner has spoken. */
  needingWord: WaitingEntry[];
  overlaps: MemberOverlap[];
  /** Counted, but longer than ten hours: worth a look. */
  longRunIds: string[];
  /** Counted and shared equally, because their rule found no weights. */
  sharedEquallyIds: string[];
};

export type WeekInput = {
  week: { fromAt: InstantMs; toAt: InstantMs };
  entries: readonly TimeEntry[];
  claims: readonly Claim[];
  pieces: readonly Pick<Piece, "id" | "number">[];
  areaOf?: SplitFacts["areaOf"];
  coatsOf?: SplitFacts["coatsOf"];
  /** The last thing a person did anywhere in the shop, for finding forgotten timers. */
  lastSignAtOf?: (memberId: MemberId) => InstantMs | undefined;
};

/**
 * Adds a week up. Entries count with their seconds inside the week; struck ones not at all; those that need the owner's
 * word are listed and left out.
 *
 * @param now until when running timers are counted
 */
export function weekReport(input: WeekInput, now: InstantMs): WeekReport {
  const { fromAt, toAt } = input.week;
  const numbers = new Map(input.pieces.map((piece) => [piece.id, piece.number]));
  const facts: SplitFacts = {
    numberOf: (pieceId) => numbers.get(pieceId) ?? "",
    areaOf: input.areaOf,
    coatsOf: input.coatsOf,
  };
  const isHelp = helpJudge(input.claims, now);
  const pieceCells = new Map<string, PieceCell>();
  const shopCells = new Map<string, ShopCell>();
  const spansByMember = new Map<MemberId, PersonSpan[]>();
  const report: Omit<WeekReport, keyof Totals> = {
    running: [],
    needingWord: [],
    overlaps: [],
    longRunIds: [],
    sharedEquallyIds: [],
  };

  for (const entry of input.entries) {
    const span = spanOf(entry, now);
    if (entry.struckAt !== undefined || span.startedAt >= toAt || span.endedAt <= fromAt) continue;
    const { id: entryId, memberId } = entry;
    const seconds = secondsWithin(span, fromAt, toAt);
    const why = wordNeeded(entry, now);
    if (entry.endedAt === undefined) {
      const question = forgotten(entry.startedAt, input.lastSignAtOf?.(memberId));
      report.running.push({ entryId, memberId, startedAt: entry.startedAt, seconds: why ? 0 : seconds, ...question });
    }
    if (why !== undefined) {
      report.needingWord.push({ entryId, memberId, why, seconds });
      continue;
    }
    if (span.endedAt - span.startedAt > longRunMs) report.longRunIds.push(entryId);
    const personSpan = { ...span, entryId };
    const known = spansByMember.get(memberId);
    if (known) known.push(personSpan);
    else spansByMember.set(memberId, [personSpan]);

    if (entry.subjects.length === 0) {
      addShopTime(shopCells, entry, seconds);
      continue;
    }
    const { parts, isEqualInstead } = partsWithin(entry, span, facts, fromAt, toAt);
    if (isEqualInstead) report.sharedEquallyIds.push(entryId);
    entry.subjects.forEach((subject, index) => {
      addPieceTime(pieceCells, entry, subject, parts[index] ?? 0, isHelp(entry, subject));
    });
  }

  const workedByMember = new Map<MemberId, number>();
  for (const [memberId, spans] of spansByMember) {
    const union = unionOf(spans, fromAt, toAt);
    workedByMember.set(memberId, union.workedSeconds);
    for (const overlap of union.overlaps) report.overlaps.push({ memberId, ...overlap });
  }
  return { ...report, ...totalsOf([...pieceCells.values()], [...shopCells.values()], workedByMember, facts) };
}

function partsWithin(entry: TimeEntry, span: WorkSpan, facts: SplitFacts, fromAt: InstantMs, toAt: InstantMs) {
  const shares = splitShares(entry, facts);
  // hours are never lost: an entry whose rule finds nothing to go by is still counted, and said to be
  const usable = shares.ok ? shares.value : entry.subjects.map(({ pieceId }) => ({ weight: 1, id: pieceId }));
  return { parts: splitWithin(span, usable, fromAt, toAt), isEqualInstead: !shares.ok };
}
