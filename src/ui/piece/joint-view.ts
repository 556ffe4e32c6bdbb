import { chalkOf, type JointAnswer, jointAnswer, roundUpToMinute } from "~/core/cure/joint";
import { type Picture, sheetOf } from "~/core/cure/picture";
import type { Joint } from "~/core/shop/tables";
import { type InstantMs, minuteMs } from "~/core/units";
import { celsius, duration, moment } from "~/ui/format";

export type JointLine = {
  joint: Joint;
  name: string;
  /** The one thing to know: when its clamps come off, that it holds, that somebody must look. */
  state: string;
  isBarred: boolean;
  details: string[];
  mayRelease: boolean;
  mayTest: boolean;
  /** It failed and nobody has glued it again. */
  mayGlueAgain: boolean;
};

/** Clamps and strength are shown to the minute, rounded up. */
const glueMoment = (at: InstantMs | undefined, now: InstantMs, zone: string) =>
  at === undefined ? "no time that can be said yet" : moment(roundUpToMinute(at), now, zone);

const stateWords = (answer: JointAnswer, now: InstantMs, zone: string): { state: string; isBarred: boolean } => {
  const { clampOff, fullStrength, isFailed, isSuspect, isUncertain, isSound } = answer;
  const when = (at: InstantMs | undefined) => glueMoment(at, now, zone);
  if (isFailed) return { state: "failed: glue it again", isBarred: true };
  if (isSuspect) return { state: "suspect: pull it or look for a white line", isBarred: true };
  if (!clampOff.isReached && clampOff.safeAt === undefined)
    return { state: "leave the clamps on: no time can be told yet", isBarred: false };
  if (!clampOff.isReached) return { state: `clamps off ${when(clampOff.safeAt)}`, isBarred: false };
  if (!fullStrength.isReached)
    return { state: `clamps may come off; full strength ${when(fullStrength.safeAt)}`, isBarred: false };
  if (isUncertain) return { state: "full strength by the clock; look at the line", isBarred: false };
  return { state: isSound ? "sound, at full strength" : "full strength", isBarred: false };
};

const coldWords = ({ firstDay, joint, isFailed }: JointAnswer, chalkCelsius: number | undefined): string[] => {
  if (isFailed) return [];
  const { lowestCelsius, lowestAt, belowChalkMin, unknownMin } = firstDay;
  const afterMin = lowestAt === undefined ? 0 : Math.round((lowestAt - joint.gluedAt) / minuteMs);
  const after = afterMin < 1 ? "" : `, ${duration(afterMin * 60)} after gluing`;
  const lowest =
    lowestCelsius === undefined
      ? []
      : [`lowest in its first day ${celsius(Math.round(lowestCelsius * 10) / 10)}${after}`];
  const below =
    belowChalkMin >= 1 && chalkCelsius !== undefined
      ? [`below ${celsius(chalkCelsius)} for ${duration(Math.round(belowChalkMin) * 60)}`]
      : [];
  const unknown = unknownMin >= 1 ? [`not read for ${duration(Math.round(unknownMin) * 60)} of it`] : [];
  return [...lowest, ...below, ...unknown];
};

const squeezeWords: Record<Joint["squeeze"], string> = {
  clamped: "in clamps",
  taped: "taped",
  none: "no clamps",
};

/** Every gluing of a piece, the latest first; one that failed stays on show beside the gluing that took its place. */
export function jointLines(picture: Picture, now: InstantMs, zone: string): JointLine[] {
  const memberName = (id: string) => picture.members.find((member) => member.id === id)?.name ?? "somebody";
  const standing = picture.joints.filter((joint) => joint.gluedAt <= now);
  const isReplaced = (joint: Joint) =>
    standing.some(
      (other) => other.gluedAt > joint.gluedAt && other.name.trim().toLowerCase() === joint.name.trim().toLowerCase(),
    );
  return standing
    .toSorted((one, other) => other.gluedAt - one.gluedAt)
    .map((joint): JointLine => {
      const answer = jointAnswer(picture, joint, now);
      const sheet = sheetOf(picture, joint.sheetId);
      const product = picture.productById.get(sheet.productId)?.name ?? "glue";
      const room = picture.roomById.get(joint.roomId)?.name.toLowerCase() ?? "a room";
      const isOver = answer.isFailed && isReplaced(joint);
      const { verdict, releasedAt } = joint;
      const released =
        releasedAt === undefined ? squeezeWords[joint.squeeze] : `clamps off since ${moment(releasedAt, now, zone)}`;
      return {
        joint,
        name: joint.name,
        ...(isOver ? { state: "failed; glued again", isBarred: false } : stateWords(answer, now, zone)),
        details: [
          `${product}, ${room}, ${moment(joint.gluedAt, now, zone)}, ${memberName(joint.by)}`,
          joint.isStressed ? `${released}, under stress` : released,
          ...coldWords(answer, chalkOf(sheet)),
          ...(verdict ? [`${memberName(verdict.by)}: ${verdict.result}, ${moment(verdict.at, now, zone)}`] : []),
        ],
        mayRelease: releasedAt === undefined && joint.squeeze !== "none" && !isOver,
        mayTest: !answer.isFailed,
        mayGlueAgain: answer.isFailed && !isOver,
      };
    });
}
