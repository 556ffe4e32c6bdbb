/**
 * What hands have found out, against what the clock estimates. A failed test shuts everything as strong or stronger until
 * a pass of the same or a stronger kind on the same subject; a passed test may open early for what it speaks of. A coat or
 * a removal after a test makes it void.
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

export type TestVerdict = { kind: "none" } | { kind: "fail"; test: HandTest } | { kind: "pass"; test: HandTest };

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

const standingTests = (picture: Picture, surfaceId: string, at: InstantMs) => {
  const changes = picture.coats
    .filter((coat) => coat.surfaceId === surfaceId)
    .flatMap((coat) => [coat.applied?.startedAt, coat.removed?.at])
    .filter((changedAt) => changedAt !== undefined && changedAt <= at) as InstantMs[];
  const lastChangeAt = Math.max(Number.NEGATIVE_INFINITY, ...changes);
  return picture.tests.filter(
    (test) =>
      milestoneByKind[test.kind] !== undefined &&
      (test.result === "pass" || test.result === "fail") &&
      test.at <= at &&
      test.at > lastChangeAt &&
      !(test.takenBackAt !== undefined && test.takenBackAt <= at) &&
      isAbout(picture, test, surfaceId),
  );
};

const roleAt = (picture: Picture, test: HandTest) =>
  picture.members
    .find((member) => member.id === test.by)
    ?.roleSpans.find(({ fromAt, toAt }) => fromAt <= test.at && (toAt === undefined || test.at < toAt))?.role;

/** A partner's word about a film opens; a helper's where the shop says so, or once the clock would have opened anyway. */
const mayOpen = (picture: Picture, test: HandTest, clockOpensAt: InstantMs | undefined) => {
  const role = roleAt(picture, test);
  if (role === "owner" || role === "partner") return true;
  if (role !== "helper") return false;
  return picture.shop.helperTestOpens || (clockOpensAt !== undefined && test.at >= clockOpensAt);
};

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
  const passes = tests.filter((test) => test.result === "pass" && mayOpen(picture, test, clockOpensAt));
  const fails = tests
    .filter((test) => test.result === "fail" && strengthOf(test) <= strength)
    .sort((one, other) => one.at - other.at);
  const standing = fails.findLast(
    (fail) =>
      !passes.some((pass) => pass.at > fail.at && strengthOf(pass) >= strengthOf(fail) && isOnSameSubject(fail, pass)),
  );
  if (standing) return { kind: "fail", test: standing };
  // a pass from before a fail is disproved, even once that fail has been answered
  const lastFailAt = fails.at(-1)?.at ?? Number.NEGATIVE_INFINITY;
  const opening = passes
    .filter(
      (pass) => pass.at > lastFailAt && strengthOf(pass) >= strength && strength <= strengthByMilestone["snug-wrap"],
    )
    .sort((one, other) => one.at - other.at)[0];
  return opening ? { kind: "pass", test: opening } : { kind: "none" };
};
