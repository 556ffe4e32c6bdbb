/** Words for what a film, its air or a hand test does not allow yet. */
import type { RefusalOf } from "~/core/shop/refusal";
import { curedHours } from "../format";
import { acclimatisingWords, limitWords } from "../rooms/air-words";
import { actionWord, familyWords, listed, testWords } from "../trade-words";
import { at, holder, opensAt, type WordingContext, type WordsByKind } from "./words";

const earned = (refusal: Pick<RefusalOf<"gate-shut">, "safeCreditMin" | "neededMin">): string | undefined =>
  refusal.safeCreditMin === undefined || refusal.neededMin === undefined
    ? undefined
    : `${curedHours(refusal.safeCreditMin)} of ${curedHours(refusal.neededMin)} earned`;

const otherAir = (r: RefusalOf<"air-unfit">, c: WordingContext): string => {
  const rooms = r.otherRoomIds.map((id) => c.names.room(id));
  const next = r.nextPassAt === undefined ? undefined : `Next good air here ${at(r.nextPassAt, c)}`;
  const elsewhere = rooms.length === 0 ? undefined : `now in the ${listed(rooms)}`;
  if (!next && !elsewhere) return "Wait for better air, or take it to another room.";
  return `${[next, elsewhere]
    .filter((part) => part !== undefined)
    .join(", ")
    .replace(/^now/, "Now")}.`;
};

const noWordFor: Record<RefusalOf<"no-word-opens">["cause"], string> = {
  "failed-test": "A hand test failed. What the hand found stands until another test passes.",
  never: "This film never takes that, however long it waits.",
  safety: "Lead, oily rags, flames and solvent are not a matter of anybody's word.",
  plastic: "No word and no hand test speak for plastic: only full cure does.",
  "full-cure": "Only time brings full cure.",
  wood: "Wet wood is measured, not spoken for: use a moisture meter.",
  sanding: "Whether it can be sanded, the paper tells: try it where nobody looks.",
  "only-waiting": "A word stands in for waiting. What holds this is not a matter of time.",
};

const testFirst = "Test it by hand, or leave it where it is.";

export const gateWords = {
  "gate-shut": (r, c) => ({
    title: `Not yet: ${actionWord(r.action).toLowerCase()}`,
    found: `${holder(r, c)}: ${earned(r) ?? "still curing"}.`,
    why: `Safe from ${opensAt(r.safeAt, c)}${r.likelyAt === undefined ? "" : `, likely ${opensAt(r.likelyAt, c)}`}.`,
    instead: testFirst,
  }),
  "gate-needs-reading": (r, c) => ({
    title: `Not known yet: ${actionWord(r.action).toLowerCase()}`,
    found: `The ${c.names.room(r.roomId)} has not been read since ${at(r.lastReadingAt, c)}.`,
    why: "Hours without a reading earn nothing, because nobody knows how cold it was.",
    instead: "Read the thermometer now: a lowest-since reading fills the gap.",
  }),
  "never-by-waiting": (r, c) => ({
    title: `No: ${actionWord(r.action).toLowerCase()}`,
    found: `Waiting will not open this: ${r.cause.replaceAll("-", " ")}.`,
    why: `Held by ${holder(r, c)}.`,
    instead: "Keep paper or felt between, or lay another film.",
  }),
  "test-says-no": (r, c) => ({
    title: "Not yet: a test says no",
    found: `${c.names.member(r.byMemberId)}: ${testWords[r.testKind as keyof typeof testWords]} failed, ${at(r.testedAt, c)}.`,
    why: "After a failed test the clock does not count until a test passes.",
    instead: r.retestAt === undefined ? "Test again by hand." : `Try again from ${at(r.retestAt, c)}.`,
  }),
  "recoat-window-shut": (r, c) => ({
    title: "Not yet: the recoat window is shut",
    found: `It shut ${at(r.closedAt, c)}.`,
    why: r.reopensAt === undefined ? "A coat on top now may not hold." : `It opens again ${at(r.reopensAt, c)}.`,
    instead: `${r.needsScuff ? "Scuff all over" : "Wait"}${r.needsTestPanel ? ", try a spare panel" : ""}, then coat.`,
  }),
  "scuff-needed": (r, c) => ({
    title: "Scuff it first",
    found: `${c.names.surface(r.surfaceId)} has not been scuffed.`,
    why: "Without a scuff the next coat has nothing to hold to.",
    instead: "Scuff all over, wipe the dust off, tick it, and coat.",
  }),
  "not-over-that": (r) => ({
    title: "No: not over that",
    found: `${familyWords[r.overFamily as keyof typeof familyWords]} does not go over ${familyWords[r.underFamily as keyof typeof familyWords]} like this.`,
    instead: r.barrierFamily
      ? `Lay ${familyWords[r.barrierFamily as keyof typeof familyWords]} between, or take another finish.`
      : "Take another finish, or strip what is there.",
  }),
  "air-unfit": (r, c) => ({
    title: `${r.acclimatising ? "Not yet" : "No"}: the air in the ${c.names.room(r.roomId)}`,
    found: `${r.limits.map(limitWords).join(". ")}.`,
    why: r.acclimatising ? acclimatisingWords(r.acclimatising) : "The data sheet asks for other air than this.",
    instead: otherAir(r, c),
  }),
  "wipe-due": (r, c) => ({
    title: "Not yet: it waits to be wiped",
    found: `${c.names.surface(r.subjectIds?.[0])} is to be wiped back from ${at(r.wipeFromAt, c)} to ${at(r.wipeLatestAt, c)}.`,
    instead: "Wipe it back and say so here.",
  }),
  "no-word-opens": (r) => ({
    title: "No: a word does not open this",
    found: noWordFor[r.cause],
    instead: r.cause === "failed-test" ? "Test again by hand: only a passed test answers a failed one." : undefined,
  }),
} satisfies Partial<WordsByKind>;
