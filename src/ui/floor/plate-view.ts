import type { AskedGate } from "~/core/cure/next-gate";
import type { Picture } from "~/core/cure/picture";
import { type InstantMs, minuteMs } from "~/core/units";
import { dayName, isSameDay, moment, untilWords } from "~/ui/format";
import type { PlateProps } from "~/ui/kit/plate";
import { stageWords } from "~/ui/trade-words";
import { askedWords, byWordWords, filmMoment, gateMoment, isHeldByJoint, productName } from "./gate-words";
import type { Outlook } from "./outlook";

const capital = (words: string) => `${words[0]?.toUpperCase() ?? ""}${words.slice(1)}`;

/** The half of the gate's sentence that must be read from two metres: the act and its time. */
export function plateView(outlook: Outlook, now: InstantMs, zone: string): PlateProps {
  const { picture, wipe, stuck, next, recoatNow, byWord, state } = outlook;
  if (wipe && now < wipe.latestAt)
    return {
      form: "due",
      action: "Wipe back",
      time: moment(wipe.latestAt, now, zone),
      detail: now < wipe.fromAt ? `from ${moment(wipe.fromAt, now, zone)}` : `${untilWords(wipe.latestAt, now)} left`,
    };
  if (wipe)
    return {
      form: "barred",
      action: "Wipe back",
      verb: "Overdue",
      detail: `since ${moment(wipe.latestAt, now, zone)}`,
    };
  if (!picture) return { form: "barred", action: "Gates", verb: "Ask again", detail: "this device lacks older air" };
  if (stuck) return { form: "barred", action: stuck.action, verb: stuck.verb };
  const [recoat] = recoatNow;
  if (recoat) return recoatPlate(outlook, recoat, now, zone);
  const [spokenFor] = byWord;
  if (spokenFor) return wordPlate(picture, spokenFor, now, zone);
  if (next) return nextPlate(outlook, next, now, zone);
  if (state) return { form: "open", action: "Full cure", since: "reached", detail: "nothing to wait for" };
  return workPlate(outlook, now, zone);
}

const needsScuff = ({ gate }: AskedGate) => gate.needs.some(({ kind }) => kind === "scuff");

function recoatPlate({ picture }: Outlook, recoat: AskedGate, now: InstantMs, zone: string): PlateProps {
  const { asked, gate } = recoat;
  const product = picture && asked.action === "recoat" ? ` ${productName(picture, asked.sheetId)}` : "";
  const byWord = picture && byWordWords(picture, gate, now, zone);
  return {
    form: "open",
    action: needsScuff(recoat) ? `Scuff, recoat${product}` : `Recoat${product}`,
    since: gate.sinceAt === undefined ? "long ago" : filmMoment(gate.sinceAt, now, zone),
    ...(byWord !== undefined && { detail: byWord }),
  };
}

/** Open because somebody said so: whose word it is stands where the film's own time would. */
function wordPlate(picture: Picture, { asked, gate }: AskedGate, now: InstantMs, zone: string): PlateProps {
  return {
    form: "open",
    action: askedWords(asked, picture),
    since: gate.sinceAt === undefined ? "long ago" : moment(gate.sinceAt, now, zone),
    detail: byWordWords(picture, gate, now, zone),
  };
}

function nextPlate({ picture, piece }: Outlook, next: AskedGate, now: InstantMs, zone: string): PlateProps {
  const { asked, gate } = next;
  const action = picture
    ? needsScuff(next)
      ? "Scuff, recoat"
      : askedWords(asked, picture)
    : capital(stageWords[piece.stage]);
  if (isHeldByJoint(gate) && gate.safeAt !== undefined)
    return {
      form: isSameDay(gate.safeAt, now, zone) ? "soon" : "waiting",
      action: "Clamps off",
      time: gateMoment(gate, gate.safeAt, now, zone),
    };
  const reading = gate.needs.find(({ kind }) => kind === "reading");
  if (reading?.kind === "reading" && (reading.mayOpenNow || gate.safeAt === undefined)) {
    const room = picture?.roomById.get(reading.roomId)?.name.toLowerCase() ?? "room";
    return { form: "due", action: `${action}: read`, time: `the ${room}`, detail: "no reading, no hours earned" };
  }
  if (gate.safeAt === undefined) return { form: "barred", action, verb: "By hand", detail: "waiting will not open it" };
  return {
    form: isSameDay(gate.safeAt, now, zone) ? "soon" : "waiting",
    action,
    time: filmMoment(gate.safeAt, now, zone),
    ...(gate.likelyAt !== undefined && { likely: filmMoment(gate.likelyAt, now, zone) }),
  };
}

/** Nothing lies on it that cures: then work is what comes next. */
function workPlate({ piece, picture, tasks, claims }: Outlook, now: InstantMs, zone: string): PlateProps {
  const action = capital(stageWords[piece.stage]);
  const [claim] = claims;
  const holder = picture?.members.find(({ id }) => id === claim?.memberIds[0])?.name;
  if (claim)
    return {
      form: "stands",
      action,
      since: moment(claim.claimedAt, now, zone),
      detail: `${holder ?? "somebody"} has it`,
    };
  const free = tasks.filter(({ state }) => state === "open").length;
  if (free > 0) return { form: "due", action, time: free === 1 ? "1 task free" : `${free} tasks free` };
  const first = picture?.coats
    .filter(({ state }) => state === "planned")
    .sort((one, other) => one.position - other.position)[0];
  if (picture && first && piece.stage === "finish")
    return { form: "due", action: `First coat, ${productName(picture, first.sheetId)}`, time: "Lay it" };
  const isDone = piece.stage === "listed" || piece.stage === "sold";
  if (isDone) return { form: "stands", action, since: dayName(piece.stageSinceAt, zone), detail: "no film holds it" };
  return { form: "due", action, time: "Plan it" };
}

/** Whether somebody can do something about it within the hour: it is due, open for a coat, or opens by then. */
export function isForNextHour({ wipe, stuck, recoatNow, next }: Outlook, now: InstantMs): boolean {
  if (wipe || recoatNow.length > 0 || stuck?.about === "inspect") return true;
  const opensAt = next?.gate.safeAt;
  return opensAt !== undefined && opensAt <= now + 60 * minuteMs;
}
