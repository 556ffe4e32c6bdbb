/**
 * Every refusal in words: what was found, what is needed, until when, what instead. Typed by the union's `kind`, so a new
 * refusal without words does not compile. No blame, no codes.
 */

import { roundUpToMinute } from "~/core/cure/joint";
import { roundUpToFiveMin } from "~/core/cure/next-gate";
import type { Refusal, RefusalKind, RefusalOf } from "~/core/shop/refusal";
import type { InstantMs } from "~/core/units";
import { celsius, curedHours, duration, moment } from "./format";
import { findingWords, mendWords } from "./piece/finding-words";
import { acclimatisingWords, hourFaultWords, limitWords } from "./rooms/air-words";
import { sheetFieldWords } from "./shelf/sheet-words";
import {
  actionWord,
  closingWords,
  familyWords,
  listed,
  methodWords,
  roleWords,
  stageWords,
  testWords,
} from "./trade-words";

/** Names for the ids in a refusal, as this device or the server knows them. */
export type Names = {
  member: (id: string | undefined) => string;
  surface: (id: string | undefined) => string;
  room: (id: string | undefined) => string;
  task: (id: string | undefined) => string;
  joint: (id: string | undefined) => string;
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

/** Clamps are shown to the minute, rounded up. */
const clampAt = (instant: InstantMs | undefined, c: WordingContext): string =>
  at(instant === undefined ? undefined : roundUpToMinute(instant), c);

const tenth = (value: number): number => Math.round(value * 10) / 10;

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

/** The first thing that stops, of as many as there are; the schedule lists them all. */
const stopWords = (r: RefusalOf<"schedule-stops"> | RefusalOf<"bleed-open">, c: WordingContext) => {
  const [first] = r.findings;
  if (!first) return { found: `${c.names.surface(r.surfaceId)} cannot be coated as planned.` };
  const { found, why } = findingWords(first, c.names);
  const more = r.findings.length > 1 ? ` And ${r.findings.length - 1} more in the schedule.` : "";
  return { found: `${c.names.surface(r.surfaceId)}: ${found}${more}`, why };
};

const mendsOf = (r: RefusalOf<"schedule-stops"> | RefusalOf<"bleed-open">, c: WordingContext) => {
  const mends = r.findings[0]?.mends.map((mend) => mendWords(mend, c.names)) ?? [];
  return `${mends.join(", or: ") || "Change the schedule"}.`;
};

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
  "lead-locked": (r) => ({
    title: `No ${listed(r.methods.map((method) => methodWords[method]))}`,
    found: `Old paint: ${r.leadState.replaceAll("-", " ")}. Paint from before ${r.banYear} may hold lead.`,
    why: "Its dust and fumes poison people, children most of all.",
    instead:
      "Have every layer tested by a laboratory, or treat it as lead: wet and contained. Local rules and licensed people decide how.",
  }),
  "left-open": (r) => ({
    title: "Not yet: something is left",
    found: `Not settled: ${listed(r.points.map((point) => closingWords[point]))}.`,
    instead: "See to it, or leave it with a reason that the others can read.",
  }),
  "rags-open": (r, c) => ({
    title: "No: oily rags are still out",
    found: `${listed(r.taskIds.map((id) => c.names.task(id)))}${r.dueAt === undefined ? "" : `, due ${at(r.dueAt, c)}`}.`,
    why: "Rags wet with drying oil heat up by themselves and can burn through the night.",
    instead: "Lay them flat outdoors in one layer, or under water in a lidded metal can. Then close up.",
  }),
  "wood-wet": (r, c) => ({
    title: "Not yet: the wood is wet",
    found: `${c.names.surface(r.surfaceId)}: last wetted ${at(r.lastWaterAt, c)}${
      r.meterPercent === undefined ? "" : `, the meter said ${r.meterPercent} %`
    }.`,
    why:
      r.equilibriumPercent === undefined
        ? "A film over wet wood lifts, and glue does not hold."
        : `In this room wood comes to rest at about ${Math.round(r.equilibriumPercent)} %.`,
    instead: `${r.safeAt === undefined ? "Let it dry" : `Dry enough ${opensAt(r.safeAt, c)} at the earliest`}, or measure it with a moisture meter.`,
  }),
  "can-past-life": (r) => ({
    title: "No: this can is past its life",
    found: r.isLabelled
      ? `Opened ${r.openedOn ?? "on an unknown day"}${r.shelfOpenedDays === undefined ? "" : `, good for ${r.shelfOpenedDays} days`}.`
      : "The can has no label.",
    why: "An old finish may never harden, however long it waits.",
    instead: "Put a drop on glass overnight and record it, or open another can.",
  }),
  "pot-life-over": (r, c) => ({
    title: "No: this mix is out of its time",
    found:
      r.usableUntilAt === undefined
        ? `Mixed ${at(r.mixedAt, c)}: to be used from ${at(r.usableFromAt, c)}.`
        : `Mixed ${at(r.mixedAt, c)}: to be used from ${at(r.usableFromAt, c)} to ${at(r.usableUntilAt, c)} in this warmth.`,
    why:
      r.earliestAt === undefined
        ? "A mix past its pot life has begun to set: its film may stay soft for good."
        : "The two parts have to stand together for a while first.",
    instead: r.earliestAt === undefined ? "Mix fresh." : "Let it stand until then.",
  }),
  "glue-too-cold": (r, c) => ({
    title: "No: too cold to glue here",
    found: `The ${c.names.room(r.roomId)}${r.lowestCelsius === undefined ? "" : ` will see ${celsius(tenth(r.lowestCelsius))}`} before ${at(r.holdUntilAt, c)}.`,
    why: `Below ${r.chalkCelsius} °C this glue dries to chalk and does not hold.`,
    instead:
      r.roomIds.length === 0
        ? "Wait for a warmer night, or warm a room."
        : `Carry it to the ${listed(r.roomIds.map((id) => c.names.room(id)))}.`,
  }),
  "joint-not-ready": (r, c) =>
    r.isFailed
      ? {
          title: "Not yet: a joint has failed",
          found: `${c.names.joint(r.jointId)} does not hold.`,
          instead: "Knock it apart, scrape it to the wood and glue it again.",
        }
      : {
          title: "Not yet: a joint is still setting",
          found: `${c.names.joint(r.jointId)}: clamps off ${clampAt(r.clampOffAt, c)}, full strength ${clampAt(r.fullStrengthAt, c)}.`,
          instead: "Leave it upright and warm, with its clamps on until they may come off.",
        },
  "joint-suspect": (r, c) => ({
    title: "Not yet: look at this joint first",
    found: `${c.names.joint(r.jointId)}: it was ${r.lowestCelsius === undefined ? "too cold" : celsius(tenth(r.lowestCelsius))} ${at(r.lowestAt, c)}, in its first day.`,
    why: "Cold glue can look dry and hold nothing.",
    instead: "Pull it or tap it, look for a white line, then say: sound or failed.",
  }),
  "bleed-open": (r, c) => ({
    title: "Not yet: something may bleed through",
    ...stopWords(r, c),
    instead: r.patchDueAt === undefined ? mendsOf(r, c) : `The patch tells ${at(r.patchDueAt, c)}. ${mendsOf(r, c)}`,
  }),
  "schedule-stops": (r, c) => ({
    title: "Not yet: the schedule does not hold",
    ...stopWords(r, c),
    instead: mendsOf(r, c),
  }),
  "ignition-near": (r, c) => ({
    title: "No: a flame is near",
    found: `There is an open flame in the ${c.names.room(r.roomId)}.`,
    why: "Solvent vapour catches fire at a distance.",
    instead: "Put it out and air the room first. The data sheet and the local fire code rule.",
  }),
  "no-word-opens": (r) => ({
    title: "No: a word does not open this",
    found: noWordFor[r.cause],
    instead: r.cause === "failed-test" ? "Test again by hand: only a passed test answers a failed one." : undefined,
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
    title: "Two figures disagree",
    found:
      "minutes" in r
        ? `${sheetFieldWords(r.fields[0])} (${duration(r.minutes[0] * 60)}) must come before ${sheetFieldWords(r.fields[1])} (${duration(r.minutes[1] * 60)}).`
        : `${sheetFieldWords(r.fields[0])} (${celsius(r.celsius[0])}) must not be above ${sheetFieldWords(r.fields[1])} (${celsius(r.celsius[1])}).`,
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
  "forecast-not-fit": (r) => ({
    title: "That is no forecast yet",
    found: r.hours
      .slice(0, 3)
      .map((fault) => `Hour ${fault.row} ${hourFaultWords(fault)}.`)
      .join(" "),
    why: r.hours.length > 3 ? `And ${r.hours.length - 3} hours more.` : undefined,
    instead: "Mend these hours and send it again; nothing of it was kept.",
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
