/** Words for what was typed, and for who may. */
import type { RefusalOf } from "~/core/shop/refusal";
import { actWords } from "../more/act-words";
import { hourFaultWords } from "../rooms/air-words";
import { listed, roleWords } from "../trade-words";
import { at, type WordingContext, type WordsByKind } from "./words";

const rangeWords = (r: RefusalOf<"out-of-bounds">): string => {
  const unit = r.unit ? ` ${r.unit}` : "";
  if (r.min !== undefined && r.max !== undefined) return `, possible ${r.min} to ${r.max}${unit}`;
  if (r.max !== undefined) return `, at most ${r.max}${unit}`;
  return r.min === undefined ? "" : `, at least ${r.min}${unit}`;
};

const actOf = (kind: string): string => actWords[kind] ?? kind.replaceAll("-", " ");

const restingWords = (one: RefusalOf<"something-rests-on-it">["resting"][number], c: WordingContext): string => {
  const who = one.byMemberId === undefined ? "" : ` by ${c.names.member(one.byMemberId)}`;
  return `${actOf(one.kind)}${who}, ${at(one.at, c)}`;
};

/** What sets it right where it cannot be unwritten. */
const insteadByKind: Record<string, string> = {
  "log-coat": "Or say that the coat is off again, once it is.",
  "record-test": "Record another test: the latest counts.",
  "start-timer": "Correct the hours instead.",
  "stop-timer": "Correct the hours instead.",
  "add-entry": "Correct the hours instead.",
  "correct-entry": "Correct the hours once more.",
  "move-room": "Carry it back, and write that down.",
  "move-stage": "Move it to the stage where it is.",
  "claim-task": "Let the task go instead.",
  "finish-task": "Open the task again instead.",
  promise: "Move or drop the promise instead.",
};

export const formWords = {
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
    instead: insteadByKind[r.itsKind] ?? "Write what is so now: the latest counts.",
  }),
  "something-rests-on-it": (r, c) => ({
    title: "Something rests on it",
    found: `After it came: ${r.resting
      .slice(0, 3)
      .map((one) => restingWords(one, c))
      .join("; ")}.`,
    why: r.resting.length > 3 ? `And ${r.resting.length - 3} more.` : undefined,
    instead: `Take those back first, where they can be. ${insteadByKind[r.itsKind] ?? "Or write what is so now."}`,
  }),
  "not-taken-back": (r) => ({
    title: "This is not taken back",
    found: `${actOf(r.itsKind)} stays as it was written.`,
    instead: insteadByKind[r.itsKind] ?? "Write what is so now: the latest counts.",
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
} satisfies Partial<WordsByKind>;
