/**
 * What hands have found out, against what the clock estimates. A failed test shuts everything as strong or stronger until
 * a pass of the same or a stronger kind on the same subject; a passed test may open early for what it speaks of. A coat, a
 * wash or a removal after a test makes it void.
 */
import type { TestKind } from "../shop/entities/tests";
import type { HandTest } from "../shop/tables";
import type { InstantMs } from "../units";
import type { Milestone } from "./milestone";
import type { Picture } from "./picture";

const strengthByMilestone: Record<Milestone, number> = {
  "set-to-touch": 0,
  "tack-free": 1,
  "recoat-opens": 2,
  handle: 3,
  "light-use": 4,
  "press-together": 5,
  stack: 5,
  "snug-wrap": 5,
  "plastic-wrap": 6,
  "full-cure": 7,
};

/**
 * The strongest milestone of which a kind of test speaks; a fail speaks against it and all stronger ones. Source: the stages
 * of ASTM D1640 and ISO 9117 as hand tests, common practice. No hand test speaks for plastic or for full cure.
 */
const milestoneByKind: Partial<Record<TestKind, Milestone>> = {
  "fingertip-on-glass": "set-to-touch",
  "paper-drop": "tack-free",
  "recoat-patch": "recoat-opens",
  "thumb-twist": "handle",
  fingernail: "light-use",
  "paper-press": "press-together",
};

export type TestVerdict =
  | { kind: "none" }
  | { kind: "fail"; test: HandTest }
  /** `sinceAt` is when it counted: a helper's pass may have waited for a partner's yes. */
  | { kind: "pass"; test: HandTest; sinceAt: InstantMs };

/** The milestone of which a kind of test speaks, if it is a test of film at all. */
export const testedMilestone = (kind: TestKind): Milestone | undefined => milestoneByKind[kind];

const strengthOf = (test: HandTest) => strengthByMilestone[milestoneByKind[test.kind] as Milestone];

/** A test of a pair speaks for both of its faces. */
const isAbout = (picture: Picture, test: HandTest, surfaceId: string) => {
  const { subject } = test;
  if (subject.of === "surface") return subject.surfaceId === surfaceId;
  if (subject.of !== "pair") return false;
  const pair = picture.pairs.find((candidate) => candidate.id === subject.pairId);
  return pair !== undefined && (pair.surfaceA === surfaceId || pair.surfaceB === surfaceId);
};

/** A coat, a removal or water on the surface: what a hand found before says nothing of the film that is there now. */
const lastChangeAt = (picture: Picture, surfaceId: string, at: InstantMs): InstantMs => {
  const lastWaterAt = picture.surfaces.find((surface) => surface.id === surfaceId)?.lastWaterAt;
  const changes = picture.coats
    .filter((coat) => coat.surfaceId === surfaceId)
    .flatMap((coat) => [coat.applied?.startedAt, coat.removed?.at]);
  return [lastWaterAt, ...changes].reduce<InstantMs>(
    (latest, changedAt) => (changedAt !== undefined && changedAt <= at ? Math.max(latest, changedAt) : latest),
    Number.NEGATIVE_INFINITY,
  );
};

const standingTests = (picture: Picture, surfaceId: string, at: InstantMs) => {
  if (picture.tests.length === 0) return [];
  const changedAt = lastChangeAt(picture, surfaceId, at);
  return picture.tests.filter(
    (test) =>
      milestoneByKind[test.kind] !== undefined &&
      (test.result === "pass" || test.result === "fail") &&
      test.at <= at &&
      test.at > changedAt &&
      !(test.takenBackAt !== undefined && test.takenBackAt <= at) &&
      isAbout(picture, test, surfaceId),
  );
};

const roleAt = (picture: Picture, test: HandTest) =>
  picture.members
    .find((member) => member.id === test.by)
    ?.roleSpans.find(({ fromAt, toAt }) => fromAt <= test.at && (toAt === undefined || test.at < toAt))?.role;

/**
 * From when a passed test may open a gate. A partner's does at once; a helper's where the shop says so, once the clock
 * would have opened anyway, or when a partner has confirmed it.
 */
const countsFrom = (
  picture: Picture,
  test: HandTest,
  at: InstantMs,
  clockOpensAt: InstantMs | undefined,
): InstantMs | undefined => {
  const role = roleAt(picture, test);
  if (role === "owner" || role === "partner") return test.at;
  if (role !== "helper") return undefined;
  if (picture.shop.helperTestOpens || (clockOpensAt !== undefined && test.at >= clockOpensAt)) return test.at;
  const confirmed = picture.confirmations.filter((yes) => yes.testId === test.id && yes.at <= at);
  return confirmed.length === 0 ? undefined : Math.max(test.at, Math.min(...confirmed.map((yes) => yes.at)));
};

type Pass = { test: HandTest; sinceAt: InstantMs };

/** Only a pass on the same subject answers a fail; one on a pair answers for its faces as well. */
const isOnSameSubject = (fail: HandTest, pass: HandTest) =>
  fail.subject.of !== "pair" || (pass.subject.of === "pair" && pass.subject.pairId === fail.subject.pairId);

/**
 * What the tests on a surface say about a milestone at an instant.
 *
 * @param clockOpensAt when the clock opened, if it has; before, a helper's pass needs the shop's leave
 * @returns the standing fail; else the first pass that opens; else none
 */
export const testVerdict = (
  picture: Picture,
  surfaceId: string,
  milestone: Milestone,
  at: InstantMs,
  clockOpensAt: InstantMs | undefined,
): TestVerdict => {
  const strength = strengthByMilestone[milestone];
  const tests = standingTests(picture, surfaceId, at);
  if (tests.length === 0) return { kind: "none" };
  const passes = tests.flatMap((test): Pass[] => {
    const sinceAt = test.result === "pass" ? countsFrom(picture, test, at, clockOpensAt) : undefined;
    return sinceAt === undefined ? [] : [{ test, sinceAt }];
  });
  const fails = tests
    .filter((test) => test.result === "fail" && strengthOf(test) <= strength)
    .sort((one, other) => one.at - other.at);
  const standing = fails.findLast(
    (fail) =>
      !passes.some(
        ({ test }) => test.at > fail.at && strengthOf(test) >= strengthOf(fail) && isOnSameSubject(fail, test),
      ),
  );
  if (standing) return { kind: "fail", test: standing };
  // a pass from before a fail is disproved, even once that fail has been answered
  const lastFailAt = fails.at(-1)?.at ?? Number.NEGATIVE_INFINITY;
  const opening = passes
    .filter(
      ({ test }) =>
        test.at > lastFailAt && strengthOf(test) >= strength && strength <= strengthByMilestone["snug-wrap"],
    )
    .sort((one, other) => one.sinceAt - other.sinceAt)[0];
  return opening ? { kind: "pass", ...opening } : { kind: "none" };
};

/** Whether a hand has found against a milestone since an instant, answered by a later pass or not. */
export const hasFailedSince = (
  picture: Picture,
  surfaceId: string,
  milestone: Milestone,
  sinceAt: InstantMs,
  at: InstantMs,
): boolean =>
  standingTests(picture, surfaceId, at).some(
    (test) => test.result === "fail" && test.at > sinceAt && strengthOf(test) <= strengthByMilestone[milestone],
  );

/** A helper's pass that opens nothing until a partner says that it counts. */
export const awaitsConfirmation = (picture: Picture, test: HandTest): boolean =>
  test.result === "pass" &&
  test.takenBackAt === undefined &&
  (milestoneByKind[test.kind] !== undefined || test.kind === "pull-or-tap" || test.kind === "bleed-patch") &&
  !picture.shop.helperTestOpens &&
  roleAt(picture, test) === "helper" &&
  !picture.confirmations.some((yes) => yes.testId === test.id);
