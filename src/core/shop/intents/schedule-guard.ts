import { pieceFindings } from "../../coating/schedule-picture";
import type { Picture } from "../../cure/picture";
import type { Refusal } from "../refusal";
import type { Task } from "../tables";

/**
 * Why a piece may not go to its finish yet, as far as its schedules say: something may bleed through, or a coat does not go
 * over what lies below it. One surface is named, with all that stops it.
 */
export const scheduleRefusal = (picture: Picture, tasks: readonly Task[]): Refusal | undefined => {
  const stops = pieceFindings(picture, tasks).filter(({ level }) => level === "stops");
  const bleed = stops.find((finding) => finding.kind === "bleed");
  const first = bleed ?? stops[0];
  if (!first) return undefined;
  const { surfaceId } = first;
  const findings = stops.filter((finding) => finding.surfaceId === surfaceId);
  const subjectIds = [picture.piece.id, surfaceId];
  if (!bleed) return { kind: "schedule-stops", surfaceId, findings, subjectIds };
  const { patchDueAt } = bleed;
  return { kind: "bleed-open", surfaceId, findings, subjectIds, ...(patchDueAt !== undefined && { patchDueAt }) };
};
