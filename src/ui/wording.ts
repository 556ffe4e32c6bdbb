/**
 * Every refusal in words: what was found, what is needed, until when, what instead. Typed by the union's `kind`, so a new
 * refusal without words does not compile. No blame, no codes.
 */

import { roundUpToFiveMin } from "~/core/cure/next-gate";
import type { Refusal, RefusalKind, RefusalOf } from "~/core/shop/refusal";
import type { InstantMs } from "~/core/units";
import { curedHours, duration, moment } from "./format";
import { actionWord, familyWords, listed, methodWords, roleWords, stageWords, testWords } from "./trade-words";

/** Names for the ids in a refusal, as this device or the server knows them. */
export type Names = {
  member: (id: string | undefined) => string;
  surface: (id: string | undefined) => string;
  room: (id: string | undefined) => string;
  task: (id: string | undefined) => string;
};

export type WordingContext = { names: Names; now: InstantMs; zone: string };

/** `title` begins with "Not yet" or "No"; the three below answer what, why and what else. */
export type Words = { title: string; found: string; why?: string; instead?: string };

type Table = { [Kind in RefusalKind]: (refusal: RefusalOf<Kind>, c: WordingContext) => Words };

const at = (instant: InstantMs | undefined, c: WordingContext): string =>
  instant === undefined ? "a time that cannot be said yet" : moment(instant, c.now, c.zone);

/** A film's moment is shown rounded up: never earlier than it is. */
const opensAt = (instant: InstantMs | undefined, c: WordingContext): string =>
  at(instant === undefined ? undefined : roundUpToFiveMin(instant), c);

type AnyGated = RefusalOf<"gate-shut">;

const holder = (refusal: Pick<AnyGated, "heldBy">, c: WordingContext): string => {
  const { heldBy } = refusal;
  if (!heldBy) return "the film";
  const [first, second] = [heldBy.surfaceId, heldBy.surfaceB].map((id) => (id ? c.names.surface(id) : undefined));
  return listed([first, second].filter((name) => name !== undefined)) || "the film";
};

const earned = (refusal: Pick<AnyGated, "safeCreditMin" | "neededMin">): string | undefined =>
  refusal.safeCreditMin === undefined || refusal.neededMin === undefined
    ? undefined
    : `${curedHours(refusal.safeCreditMin)} of ${curedHours(refusal.neededMin)} earned`;

const testFirst = "Test it by hand, or leave it where it is.";

const table: Table = {
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
    title: `No: the air in the ${c.names.room(r.roomId)}`,
    found: listed(
      r.limits.map(
        (limit) =>
          `${limit.limit.replaceAll("-", " ")} is ${limit.found} ${limit.unit}, needed ${limit.needed} ${limit.unit}`,
      ),
    ),
    why: "The data sheet asks for other air than this.",
    instead: "Wait for better air, or take it to another room.",
  }),
  "wipe-due": (r, c) => ({
    title: "Not yet: it waits to be wiped",
    found: `${c.names.surface(r.subjectIds?.[0])} is to be wiped back from ${at(r.wipeFromAt, c)} to ${at(r.wipeLatestAt, c)}.`,
    instead: "Wipe it back and say so here.",
  }),
  "lead-locked": (r) => ({
    title: `No ${listed(r.methods.map((method) => methodWords[method]))}`,
    found: `Old paint: ${r.leadState.replaceAll("-", " ")}. Paint from before ${r.banYear} may hold lead.`,
    why: "Its dust and fumes poison people, children most of all.",
    instead:
      "Have every layer tested by a laboratory, or treat it as lead: wet and contained. Local rules and licensed people decide how.",
  }),
  "rags-not-safe": () => ({
    title: "No: that is not put away",
    found: "Rags wet with drying oil heat up by themselves and can burn hours later.",
    instead:
      "Spread them flat in one layer outdoors on something that cannot burn, or sink them in water in a lidded metal can.",
  }),
  "flaw-open": (r) => ({
    title: "Not yet: a flaw is open",
    found: `${r.coatIds.length === 1 ? "A coat is" : `${r.coatIds.length} coats are`} flawed and not mended.`,
    instead: "Mend it and say how, or report the coat removed.",
  }),
  "coats-left": (r) => ({
    title: "Not yet: coats are left",
    found: `${r.coatIds.length === 1 ? "One coat is" : `${r.coatIds.length} coats are`} still planned.`,
    instead: "Apply them, or strike them from the schedule.",
  }),
  "coat-out-of-order": (r) => ({
    title: "Not yet: a coat comes before it",
    found: `${r.coatIds.length === 1 ? "The coat" : `${r.coatIds.length} coats`} below ${r.coatIds.length === 1 ? "is" : "are"} still planned.`,
    instead: "Log or strike the coat below first.",
  }),
  "coat-already-applied": (r, c) => ({
    title: "Already logged",
    found: `${c.names.member(r.byMemberId)} logged this coat, ${at(r.appliedAt, c)}.`,
    instead: "If yours was another coat, log it as an extra one.",
  }),
  "coat-is-over": (r) => ({
    title: "No: that coat is over",
    found: `It is ${r.state}.`,
    instead: "Plan or log a new one.",
  }),
  "tasks-open": (r, c) => ({
    title: "Not yet: work is open",
    found: `Still open: ${listed(r.taskIds.map(c.names.task))}.`,
    instead: "Finish it, or set it aside with a reason.",
  }),
  "task-waits": (r, c) => ({
    title: "Not yet: something comes first",
    found: `Waiting for ${listed(r.taskIds.map(c.names.task))}.`,
    why: r.waitsUntilAt === undefined ? undefined : `Until ${at(r.waitsUntilAt, c)}.`,
    instead: "Take another task meanwhile.",
  }),
  "task-cycle": (r, c) => ({
    title: "No: that order bites its tail",
    found: `${listed(r.taskIds.map(c.names.task))} would each wait for the other.`,
    instead: "Take one of them out of the order.",
  }),
  "task-is-over": (r, c) => ({
    title: "No: that task is over",
    found: `${c.names.task(r.taskId)} is ${r.state.replaceAll("-", " ")}.`,
    instead: "Reopen it if it needs doing again.",
  }),
  "skill-missing": (r, c) => ({
    title: "Not alone",
    found: `This needs ${listed(r.skills)}.`,
    instead:
      r.membersWith.length > 0
        ? `${listed(r.membersWith.map(c.names.member))} can.`
        : "An owner can note a skill at Members.",
  }),
  "piece-incomplete": (r) => ({
    title: "Not yet: something is missing",
    found: `It still needs: ${listed(r.fields)}.`,
    instead: "Add it on the piece sheet.",
  }),
  "reason-missing": (r) => ({
    title: "Say why",
    found: "Going back needs a reason.",
    instead: `One of: ${listed(r.reasons.map((reason) => reason.replaceAll("-", " ")))}.`,
  }),
  "moved-meanwhile": (r, c) => ({
    title: "It has moved meanwhile",
    found: `${c.names.member(r.byMemberId)} moved it to ${stageWords[r.to]}, ${at(r.at, c)}.`,
    why: `Yours started from ${stageWords[r.fromStage]}.`,
    instead: "Move it on from where it is now.",
  }),
  "changed-meanwhile": (r, c) => ({
    title: "Changed meanwhile",
    found: `${r.byMemberId ? c.names.member(r.byMemberId) : "Somebody"} changed ${r.field} to “${String(r.theirs ?? "nothing")}”.`,
    instead: "Look at both, then write yours again if it still holds.",
  }),
  "already-claimed": (r, c) => ({
    title: "Taken",
    found: `${c.names.member(r.holderId)} has had it since ${at(r.claimedAt, c)}.`,
    why: `Held until ${at(r.leaseEndsAt, c)} unless work on it goes on.`,
    instead: "Take another, or ask for it.",
  }),
  "claimed-while-apart": (r, c) => ({
    title: "Two took it; nothing is lost",
    found: `${c.names.member(r.holderId)} has had it since ${at(r.claimedAt, c)}. You could not know.`,
    why:
      r.keptSeconds > 0
        ? `Your ${duration(r.keptSeconds)} stay on the piece as help.`
        : "Anything you logged stays on the piece as help.",
    instead: `${c.names.member(r.holderId)} can hand it over with one tap.`,
  }),
  "not-claimed": (r, c) => ({
    title: "Not yours",
    found: `You do not hold ${c.names.task(r.taskId)}.`,
    instead: "Its holder hands it over, or an owner ends the claim.",
  }),
  "promise-too-early": (r, c) => ({
    title: "Too early to promise",
    found: `Asked for ${at(r.dueAt, c)}.`,
    why:
      r.safeAt === undefined
        ? "Its coats are not on yet."
        : `The earliest honest date is ${opensAt(r.safeAt, c)}: ${holder(r, c)}.`,
    instead: "Promise that, or give your word with a reason.",
  }),
  "promise-stands": (r, c) => ({
    title: "There is a promise already",
    found: `Due ${at(r.dueAt, c)}.`,
    instead: "Move that one and say why.",
  }),
  "entry-too-long": (r, c) => ({
    title: "That is a long time",
    found: `${at(r.startedAt, c)} to ${at(r.endedAt, c)} is ${duration((r.endedAt - r.startedAt) / 1000)}; ${duration(r.maxMin * 60)} is the most in one go.`,
    instead: "Say when it really stopped.",
  }),
  "ends-before-start": (r, c) => ({
    title: "It ends before it starts",
    found: `From ${at(r.startedAt, c)} to ${at(r.endedAt, c)}.`,
    instead: "Mend one of the two times.",
  }),
  "weights-empty": () => ({
    title: "All shares are nothing",
    found: "No piece has a share of this time.",
    instead: "Give one piece a share.",
  }),
  "too-far-back": (r, c) => ({
    title: "Too far back",
    found: `${at(r.happenedAt, c)} is further back than ${roleWords[r.role]} may write; the limit is ${at(r.oldestAt, c)}.`,
    instead:
      r.mayAsk.length > 0 ? `Ask ${listed(r.mayAsk.map((role) => roleWords[role]))}.` : "It can no longer be written.",
  }),
  "in-the-future": (r, c) => ({
    title: "That is still to come",
    found: `${at(r.happenedAt, c)} lies ahead; now is ${at(r.latestAt, c)}.`,
    instead: "Mend the time, or write it when it is done.",
  }),
  "clock-not-trusted": (r, c) => ({
    title: "When was it?",
    found: `This device's clock cannot be relied on; it shows ${at(r.deviceAt, c)}.`,
    instead: "Type the time by the clock on the wall.",
  }),
  "before-it-existed": (r, c) => ({
    title: "Before it was here",
    found: `${r.thing} came ${at(r.cameAt, c)}; this says ${at(r.happenedAt, c)}.`,
    instead: "Mend the time.",
  }),
  "after-it-left": (r, c) => ({
    title: "After it left",
    found: `${r.thing} left ${at(r.leftAt, c)}; this says ${at(r.happenedAt, c)}.`,
    instead: "Mend the time, or bring the piece back first.",
  }),
  "out-of-bounds": (r) => ({
    title: "That cannot be",
    found: `${r.field}: found ${r.found}${r.unit ? ` ${r.unit}` : ""}${rangeWords(r)}.`,
    instead: "Look again and write what it is.",
  }),
  "text-not-fit": (r) => ({
    title: "Those words do not fit",
    found: {
      empty: `${r.field} is empty.`,
      "too-long": `${r.field} is too long.`,
      "hidden-character": `${r.field} holds characters that cannot be seen or that turn text around.`,
    }[r.reason],
    instead: {
      empty: "Write something.",
      "too-long": "Make it shorter.",
      "hidden-character": "Type it anew instead of pasting.",
    }[r.reason],
  }),
  malformed: (r) => ({
    title: "That could not be read",
    found: `${r.field} is not what was expected (${r.expected}).`,
    instead: "Load the page again; if it stays, tell the owner what you did.",
  }),
  "reading-differs": (r, c) => ({
    title: "Read twice, differently",
    found: `The ${c.names.room(r.roomId)} already has ${r.airCelsius} °C, ${r.humidityPercent} % at ${at(r.at, c)}.`,
    instead: "Take the wrong one back, then write the right one.",
  }),
  "sheet-out-of-order": (r) => ({
    title: "The times are out of order",
    found: `${r.fields[0]} (${duration(r.minutes[0] * 60)}) must not come after ${r.fields[1]} (${duration(r.minutes[1] * 60)}).`,
    instead: "Compare with the can and mend one of them.",
  }),
  "may-not": (r) => ({
    title: "Not with this role",
    found: `${roleWords[r.role]} cannot do this here.`,
    instead: r.needs.length > 0 ? `${listed(r.needs.map((role) => roleWords[role]))} can.` : undefined,
  }),
  "not-on-shared-tablet": () => ({
    title: "Not on the shared tablet",
    found: "The tablet takes reports and claims only.",
    instead: "Sign in on your own device for this.",
  }),
  "unknown-thing": (r) => ({
    title: "Nothing by this name here",
    found: `${r.field} names nothing in this shop.`,
    instead: "Load the page again and choose anew.",
  }),
  "no-longer-a-member": (r, c) => ({
    title: "Your place here has ended",
    found: `It ended ${at(r.endedAt, c)}. Hours from before it were passed to the owner.`,
  }),
  "last-owner": () => ({
    title: "Not the last owner",
    found: "A shop keeps at least one owner.",
    instead: "Make somebody else an owner first.",
  }),
  "invitation-over": (r) => ({
    title: "This invitation does not open anything",
    found: {
      used: "It was used already.",
      withdrawn: "The owner took it back.",
      expired: "It has run out.",
      unknown: "It is not one of this shop's.",
    }[r.reason],
    instead: "Ask the owner for a new one.",
  }),
  "still-in-use": (r) => ({
    title: "Still in use",
    found: `${r.by.length === 1 ? "Something rests" : `${r.by.length} things rest`} on it.`,
    instead: "End those first.",
  }),
  "too-late-to-take-back": (r, c) => ({
    title: "Too late to take back",
    found: `That was possible until ${at(r.untilAt, c)}.`,
    instead: "Record another test: the latest counts.",
  }),
  "rests-on-refused": (r) => ({
    title: "It rested on something refused",
    found: `What it needed (${r.itsKind.replaceAll("-", " ")}) was not accepted.`,
    instead: "Settle that one first, then do this again.",
  }),
  "intent-altered": () => ({
    title: "Already sent with other content",
    found: "The first one stands.",
    instead: "Send yours anew.",
  }),
  "import-empty": (r) => ({
    title: "Nothing new in that file",
    found:
      r.badRows > 0
        ? `${r.badRows} rows could not be read, the others are here already.`
        : "All its readings are here already.",
  }),
};

const rangeWords = (r: RefusalOf<"out-of-bounds">): string => {
  const unit = r.unit ? ` ${r.unit}` : "";
  if (r.min !== undefined && r.max !== undefined) return `, possible ${r.min} to ${r.max}${unit}`;
  if (r.max !== undefined) return `, at most ${r.max}${unit}`;
  return r.min === undefined ? "" : `, at least ${r.min}${unit}`;
};

export const wordsOf = (refusal: Refusal, c: WordingContext): Words =>
  (table[refusal.kind] as (refusal: Refusal, c: WordingContext) => Words)(refusal, c);
