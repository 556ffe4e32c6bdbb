/** Words for hours, and for when things happened. */
import { duration } from "../format";
import { listed, roleWords } from "../trade-words";
import { at, type WordsByKind } from "./words";

export const hourWords = {
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
} satisfies Partial<WordsByKind>;
