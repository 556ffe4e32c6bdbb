/**
 * A glued joint: until when it stays in its clamps, when it carries everything, and whether the cold has spoilt it. Its
 * minutes are those of the glue's sheet, earned like a film's, in the room where it was glued and then wherever its piece
 * stands. An estimate that may only delay: the bottle in hand and a pull on the joint outrank it.
 */
import { airKnownAt } from "../climate/history";
import type { HandTest, Joint, Sheet } from "../shop/tables";
import { glueTimesByKind } from "../tables/glue-times";
import { type InstantMs, minuteMs } from "../units";
import { type FirstDay, firstDay } from "./joint-first-day";
import { Leg } from "./leg";
import { type Picture, sheetOf, staysKnownAt } from "./picture";
import type { Hardening } from "./progress";
import { Reach } from "./reach";
import { roomCredit } from "./room-credit";

/** Carrying a clamped chair from room to room ruins nothing. Choice of this product. */
const usualChalkGraceMin = 30;

/** How a clamp's instant is shown: up to the next minute, for nobody should come early. Gates compare exactly. */
export const roundUpToMinute = (at: InstantMs): InstantMs => Math.ceil(at / minuteMs) * minuteMs;

export type GlueSheet = Pick<Sheet, "mechanism" | "clampMin" | "fullStrengthMin" | "chalkCelsius" | "minimumCelsius">;

/** Below it the glue's line turns to chalk; nothing for a glue that only waits in the cold. */
export const chalkOf = (sheet: GlueSheet): number | undefined =>
  sheet.chalkCelsius ?? (sheet.mechanism === "glue" ? sheet.minimumCelsius : undefined);

type GlueMinutes = { clampMin: number; fullStrengthMin: number };

/**
 * What a joint needs at the reference of its glue, in minutes. A sheet that says nothing takes the trade's figures for white
 * glue; a joint under stress stays clamped for at least what the shop says.
 */
const neededMinutes = (sheet: GlueSheet, joint: Joint, stressedClampMin = 0): GlueMinutes => {
  const usual = glueTimesByKind["white-glue"];
  const clampMin = Math.max(sheet.clampMin ?? usual.clampMin, joint.isStressed ? stressedClampMin : 0);
  return { clampMin, fullStrengthMin: Math.max(clampMin, sheet.fullStrengthMin ?? usual.fullStrengthMin) };
};

/** Where a joint was when: where it was glued, until its piece is next carried. */
export const jointRooms = (picture: Pick<Picture, "stays">, joint: Joint, at: InstantMs) =>
  staysKnownAt(picture, joint.pieceId, at)
    .filter((stay) => stay.toAt > joint.gluedAt)
    .map((stay) => (stay.fromAt <= joint.gluedAt ? { ...stay, roomId: joint.roomId, fromAt: joint.gluedAt } : stay));

/** The joint and the air around it since it was glued, as known at the instant of asking. */
const hardeningOf = (picture: Picture, joint: Joint, at: InstantMs): Hardening => {
  const reference = sheetOf(picture, joint.sheetId);
  const asked = { at, countsAway: false };
  const legs = jointRooms(picture, joint, at).flatMap(({ roomId, fromAt, toAt }) => {
    const air = picture.airByRoomId.get(roomId);
    if (!air) return [];
    return [new Leg(fromAt, toAt, roomCredit(airKnownAt(air, at), reference, picture.shop.likelyCap), asked)];
  });
  return { laidAt: joint.gluedAt, legs, checkpoint: undefined, asked, reached: [] };
};

/** How far a joint is on its way to something, in minutes at the glue's reference. */
export type JointReach = Pick<Reach, "neededMin" | "safeCreditMin" | "isReached"> &
  Partial<Pick<Reach, "safeAt" | "likelyAt">>;

export type JointAnswer = {
  joint: Joint;
  clampOff: JointReach;
  fullStrength: JointReach;
  firstDay: FirstDay;
  /** Too long too cold in its first day, and nobody has pulled it since. */
  isSuspect: boolean;
  /** Nobody knows how cold a part of its first day was: look at it. It holds no gate. */
  isUncertain: boolean;
  /** A pull, a tap or a look said that it does not hold. */
  isFailed: boolean;
  isSound: boolean;
};

/** A partner's word about a joint counts at once; a helper's where the shop says so, or once a partner has confirmed it. */
const isCounted = (picture: Picture, verdict: NonNullable<Joint["verdict"]>, at: InstantMs): boolean => {
  if (verdict.result === "failed" || picture.shop.helperTestOpens) return true;
  const role = picture.members
    .find((member) => member.id === verdict.by)
    ?.roleSpans.find(({ fromAt, toAt }) => fromAt <= verdict.at && (toAt === undefined || verdict.at < toAt))?.role;
  if (role === "owner" || role === "partner") return true;
  return picture.confirmations.some((given) => given.testId === verdict.testId && given.at <= at);
};

/** What is known of a joint at an instant. */
export const jointAnswer = (picture: Picture, joint: Joint, at: InstantMs): JointAnswer => {
  const sheet = sheetOf(picture, joint.sheetId);
  const { clampMin, fullStrengthMin } = neededMinutes(sheet, joint, picture.shop.stressedClampMin);
  const hardening = hardeningOf(picture, joint, at);
  const day = firstDay(hardening, chalkOf(sheet), picture.shop.chalkGraceMin ?? usualChalkGraceMin);
  const given = joint.verdict && joint.verdict.at <= at ? joint.verdict : undefined;
  const verdict = given && isCounted(picture, given, at) ? given : undefined;
  // a pull from before the cold says nothing about what the cold did
  const isSound = verdict?.result === "sound" && (day.tooColdSinceAt === undefined || verdict.at >= day.tooColdSinceAt);
  const isFailed = verdict?.result === "failed";
  const isSuspect = day.tooColdSinceAt !== undefined && !isSound && !isFailed;
  return {
    joint,
    clampOff: new Reach(hardening, { min: clampMin }),
    fullStrength: new Reach(hardening, { min: fullStrengthMin }),
    firstDay: day,
    isSuspect,
    isUncertain: day.unknownMin > 0 && !isSuspect && !isSound && !isFailed,
    isFailed,
    isSound,
  };
};

const isSameName = (one: string, other: string) => one.trim().toLowerCase() === other.trim().toLowerCase();

/**
 * The joints of a piece that are glued at an instant, in the order in which they were made. One that failed and was glued
 * again under its name is not among them: the new gluing is.
 */
export const standingJoints = ({ joints, piece }: Pick<Picture, "joints" | "piece">, at: InstantMs): Joint[] => {
  const glued = joints.filter((joint) => joint.pieceId === piece.id && joint.gluedAt <= at);
  return glued
    .filter(
      (joint) =>
        joint.verdict?.result !== "failed" ||
        !glued.some((other) => other.gluedAt > joint.gluedAt && isSameName(other.name, joint.name)),
    )
    .sort((one, other) => one.gluedAt - other.gluedAt);
};

export const jointAnswers = (picture: Picture, at: InstantMs): JointAnswer[] =>
  standingJoints(picture, at).map((joint) => jointAnswer(picture, joint, at));

/**
 * What a hand test makes of a joint: a failed pull, tap or look is final, a passed pull or tap says that it is sound. A line
 * that is not white proves nothing.
 *
 * @returns nothing where the test changes nothing
 */
export const jointVerdict = (
  joint: Pick<Joint, "verdict" | "gluedAt">,
  test: Pick<HandTest, "id" | "kind" | "result" | "at" | "by">,
): NonNullable<Joint["verdict"]> | undefined => {
  if (test.kind !== "pull-or-tap" && test.kind !== "chalk-look") return undefined;
  if (test.at < joint.gluedAt || joint.verdict?.result === "failed") return undefined;
  const told = { at: test.at, by: test.by, testId: test.id };
  if (test.result === "fail") return { result: "failed", ...told };
  if (test.result !== "pass" || test.kind !== "pull-or-tap") return undefined;
  return joint.verdict && joint.verdict.at > test.at ? undefined : { result: "sound", ...told };
};
