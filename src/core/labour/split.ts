/** One entry, several pieces: how its seconds are shared between them. */
import { apportion, type Share } from "../money/apportion";
import { accept, type Result, refuse } from "../result";
import type { PieceId } from "../shop/entities/ids";
import type { RefusalOf } from "../shop/refusal";
import type { Coat, Surface, Task, TimeEntry } from "../shop/tables";
import type { InstantMs } from "../units";
import { secondsUntil, spanSeconds, type WorkSpan } from "./entry";

export type Subject = TimeEntry["subjects"][number];

/** What the rules of splitting need to know about the shop. */
export type SplitFacts = {
  /** The piece's number on its tag: breaks ties. */
  numberOf: (pieceId: PieceId) => string;
  /** dm² of the surfaces worked on. */
  areaOf?: (subject: Subject) => number;
  /** Coats laid. */
  coatsOf?: (subject: Subject, entry: TimeEntry) => number;
};

/**
 * The weight of each subject of an entry. A weight noted with the entry stands before today's areas and coats, so that
 * measuring a piece again does not move hours that somebody has already checked.
 */
function weightOf(entry: TimeEntry, subject: Subject, index: number, facts: SplitFacts): number {
  switch (entry.splitRule) {
    case "one":
      return index === 0 ? 1 : 0;
    case "equal":
      return 1;
    case "area":
      return subject.weight ?? facts.areaOf?.(subject) ?? 0;
    case "coats":
      return subject.weight ?? facts.coatsOf?.(subject, entry) ?? 0;
    case "typed":
      return subject.weight ?? 0;
  }
}

/** The subjects of an entry with their weights; refused when the rule finds nothing to go by. */
export function splitShares(entry: TimeEntry, facts: SplitFacts): Result<Share[], RefusalOf<"weights-empty">> {
  const shares = entry.subjects.map((subject, index) => ({
    weight: weightOf(entry, subject, index, facts),
    name: facts.numberOf(subject.pieceId),
    id: `${subject.pieceId} ${subject.taskId ?? ""}`,
  }));
  if (shares.length > 0 && shares.every((share) => share.weight === 0))
    return refuse({ kind: "weights-empty", pieceIds: entry.subjects.map((subject) => subject.pieceId) });
  return accept(shares);
}

/** Seconds per subject, in the order of the subjects, adding up to the entry exactly. None for an entry without subjects. */
export function splitSeconds(
  entry: TimeEntry,
  span: WorkSpan,
  facts: SplitFacts,
): Result<number[], RefusalOf<"weights-empty">> {
  const shares = splitShares(entry, facts);
  if (!shares.ok) return shares;
  return accept(shares.value.length === 0 ? [] : apportion(spanSeconds(span), shares.value));
}

/**
 * The same for a stretch of the entry. Each cut shares the seconds so far by the parts of the whole, so the parts of a
 * stretch add up to the stretch, and a piece's parts of all stretches to its part of the whole.
 */
export function splitWithin(span: WorkSpan, shares: readonly Share[], fromAt: InstantMs, toAt: InstantMs): number[] {
  if (shares.length === 0) return [];
  const wholes = apportion(spanSeconds(span), shares);
  if (fromAt <= span.startedAt && toAt >= span.endedAt) return wholes;
  const byWhole = wholes.map((weight, index) => ({ ...shares[index], weight }));
  const before = apportion(secondsUntil(span, fromAt), byWhole);
  return apportion(secondsUntil(span, toAt), byWhole).map((part, index) => part - (before[index] ?? 0));
}

/** dm² worked on: the surfaces that the task names, or the whole piece when it names none. */
export function workedAreas(tasks: readonly Task[], surfaces: readonly Surface[]): (subject: Subject) => number {
  const areaBySurface = new Map(surfaces.map((surface) => [surface.id, surface.squareDecimetres]));
  const areaByPiece = new Map<PieceId, number>();
  for (const { pieceId, squareDecimetres } of surfaces)
    areaByPiece.set(pieceId, (areaByPiece.get(pieceId) ?? 0) + squareDecimetres);
  const taskById = new Map(tasks.map((task) => [task.id, task]));
  return ({ pieceId, taskId }) => {
    const surfaceIds = (taskId && taskById.get(taskId)?.surfaceIds) || [];
    if (surfaceIds.length === 0) return areaByPiece.get(pieceId) ?? 0;
    return surfaceIds.reduce((sum, surfaceId) => sum + (areaBySurface.get(surfaceId) ?? 0), 0);
  };
}

/** Coats that the person of the entry laid on the piece while it ran. */
export function laidCoats(coats: readonly Coat[]): (subject: Subject, entry: TimeEntry) => number {
  const coatsByPiece = new Map<PieceId, Coat[]>();
  for (const coat of coats) {
    const ofPiece = coatsByPiece.get(coat.pieceId);
    if (ofPiece) ofPiece.push(coat);
    else coatsByPiece.set(coat.pieceId, [coat]);
  }
  return (subject, entry) =>
    (coatsByPiece.get(subject.pieceId) ?? []).filter(
      ({ applied }) =>
        applied?.by.includes(entry.memberId) &&
        applied.startedAt >= entry.startedAt &&
        applied.startedAt < (entry.endedAt ?? Number.POSITIVE_INFINITY),
    ).length;
}
