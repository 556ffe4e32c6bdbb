/** Words for coats, glue, wood, cans and mixes. */
import type { RefusalOf } from "~/core/shop/refusal";
import { celsius, duration } from "../format";
import { findingWords, mendWords } from "../piece/finding-words";
import { sheetFieldWords } from "../shelf/sheet-words";
import { listed } from "../trade-words";
import { at, clampAt, opensAt, tenth, type WordingContext, type WordsByKind } from "./words";

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

export const filmWords = {
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
  "sheet-out-of-order": (r) => ({
    title: "Two figures disagree",
    found:
      "minutes" in r
        ? `${sheetFieldWords(r.fields[0])} (${duration(r.minutes[0] * 60)}) must come before ${sheetFieldWords(r.fields[1])} (${duration(r.minutes[1] * 60)}).`
        : `${sheetFieldWords(r.fields[0])} (${celsius(r.celsius[0])}) must not be above ${sheetFieldWords(r.fields[1])} (${celsius(r.celsius[1])}).`,
    instead: "Compare with the can and mend one of them.",
  }),
} satisfies Partial<WordsByKind>;
