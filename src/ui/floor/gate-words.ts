import type { GateAction } from "~/core/cure/demand";
import type { Gate, HeldBy } from "~/core/cure/gate-answer";
import { roundUpToMinute } from "~/core/cure/joint";
import { roundUpToFiveMin } from "~/core/cure/next-gate";
import { familyOf, filmOn, type Picture, sheetOf } from "~/core/cure/picture";
import type { Word } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { moment } from "~/ui/format";
import { listed, wrapWords } from "~/ui/trade-words";

/** A film's instant as it is shown: up to the next five minutes, in the shop's zone. */
export const filmMoment = (at: InstantMs, now: InstantMs, zone: string): string =>
  moment(roundUpToFiveMin(at), now, zone);

/** "W2", or the product's family where it has no better name. */
export const productName = (picture: Picture, sheetId: string): string =>
  picture.productById.get(sheetOf(picture, sheetId).productId)?.name ?? familyOf(picture, sheetOf(picture, sheetId));

/** What is asked, in the plain words of the bench. */
export function askedWords(asked: GateAction, picture: Picture): string {
  switch (asked.action) {
    case "move":
      return asked.carried === "hands" ? "Handle" : "Carry on a stand";
    case "recoat":
      return `Recoat, ${productName(picture, asked.sheetId)}`;
    case "press-together":
      return "Press together";
    case "wrap":
      return `Wrap: ${wrapWords[asked.wrap]}`;
    case "use":
      return asked.how === "full" ? "Full cure" : "Light use";
    case "sand":
      return "Sand";
    case "stack":
      return "Stack";
    case "hand-over":
      return "Hand over";
    case "touch":
      return "Touch";
  }
}

/** "fronts against body, coat 2": the film, or the pair of faces, that decides. */
export function holdsWords(picture: Picture, heldBy: HeldBy | undefined, at: InstantMs): string | undefined {
  if (!heldBy) return undefined;
  const name = (id: string | undefined) => picture.surfaces.find((surface) => surface.id === id)?.name.toLowerCase();
  const faces = [name(heldBy.surfaceId), name(heldBy.surfaceB)]
    .filter((found) => found !== undefined)
    .join(" against ");
  const coatNumber = filmOn(picture, heldBy.surfaceId, at).findIndex((coat) => coat.id === heldBy.coatId) + 1;
  return listed([faces]) + (coatNumber > 0 ? `, coat ${coatNumber}` : "");
}

/** Where a joint holds a gate longer than every film does. */
const jointHolding = ({ heldBy, needs }: Pick<Gate, "heldBy" | "needs">) =>
  heldBy === undefined ? needs.find((need) => need.kind === "joint") : undefined;

export const isHeldByJoint = (gate: Pick<Gate, "heldBy" | "needs">): boolean => jointHolding(gate) !== undefined;

/** What holds a gate, by name: the film or the pair of faces, or else the joint. */
export function heldByWords(picture: Picture, gate: Gate, at: InstantMs): string | undefined {
  const joint = jointHolding(gate);
  const name = joint && picture.joints.find(({ id }) => id === joint.jointId)?.name;
  return name === undefined ? holdsWords(picture, gate.heldBy, at) : `joint “${name}”`;
}

/** When a gate opens, as it is shown: films to the next five minutes, clamps and somebody's word to the minute. */
export const gateMoment = (gate: Gate, at: InstantMs, now: InstantMs, zone: string): string => {
  if (gate.evidence === "word") return moment(at, now, zone);
  return isHeldByJoint(gate) ? moment(roundUpToMinute(at), now, zone) : filmMoment(at, now, zone);
};

const figure = (value: number) => `${Math.round(value * 10) / 10}`;

/** "40.8 of 96 h earned"; short cures in minutes. Cut, not rounded up: an hour begun is not an hour earned. */
export function earnedWords({
  safeCreditMin,
  neededMin,
}: Pick<Gate, "safeCreditMin" | "neededMin">): string | undefined {
  if (safeCreditMin === undefined || neededMin === undefined) return undefined;
  const earnedMin = Math.min(safeCreditMin, neededMin);
  if (neededMin < 90) return `${Math.floor(earnedMin)} of ${Math.round(neededMin)} min earned`;
  return `${figure(Math.floor(earnedMin / 6) / 10)} of ${figure(neededMin / 60)} h earned`;
}

/** "by Fern’s word until Thu 18:00": a person answers for it, not the film. */
export function byWordWords(picture: Picture, { wordId }: Gate, now: InstantMs, zone: string): string | undefined {
  const word = wordId === undefined ? undefined : picture.words.find(({ id }) => id === wordId);
  if (!word) return undefined;
  return `by ${giverOf(picture, word)}’s word until ${moment(word.untilAt, now, zone)}`;
}

export const giverOf = (picture: Pick<Picture, "members">, { by }: Pick<Word, "by">): string =>
  picture.members.find(({ id }) => id === by)?.name ?? "somebody";

/** What to do about a joint that no clock makes good. */
export function jointWords(gate: Gate): string | undefined {
  const states = gate.needs.flatMap((need) => (need.kind === "joint" ? [need.state] : []));
  if (states.includes("failed")) return "a joint failed";
  return states.includes("suspect") ? "pull a joint first" : undefined;
}

/** "since Tue 05:15", "from Fri 05:15", or what stands in the way when no clock will open it. */
export function gateTimeWords(gate: Gate, now: InstantMs, zone: string, picture?: Picture): string {
  if (gate.state === "open") {
    const byWord = picture && byWordWords(picture, gate, now, zone);
    if (byWord) return byWord;
    if (gate.sinceAt === undefined) return gate.heldBy ? "open for long" : "no film holds it";
    return `since ${filmMoment(gate.sinceAt, now, zone)}`;
  }
  if (gate.state === "shut-for-good") return "not by waiting";
  if (gate.safeAt === undefined)
    return gate.needs.some((need) => need.kind === "test-says-no")
      ? "a test says no"
      : (jointWords(gate) ?? "not known yet");
  return `from ${gateMoment(gate, gate.safeAt, now, zone)}`;
}
