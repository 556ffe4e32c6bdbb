import { mixUse } from "~/core/coating/pot-life";
import { CannotTellHere, type Facts } from "~/core/shop/facts";
import type { Mix } from "~/core/shop/tables";
import { dayMs, type InstantMs } from "~/core/units";
import { moment } from "../format";
import { volume } from "./amount-words";
import { cansShown } from "./shelf-view";

export type LiveMix = { mix: Mix; usableFromAt: InstantMs; usableUntilAt?: InstantMs };

const airHere = (facts: Facts, roomId: string, fromAt: InstantMs) => {
  try {
    return facts.air(roomId, fromAt);
  } catch (error) {
    // a device that carries no air of that room reckons in real minutes
    if (error instanceof CannotTellHere) return undefined;
    throw error;
  }
};

/** Mixes of a product that may still be used, the newest first; one without a pot life counts for a day. */
export const liveMixes = (facts: Facts, productId: string, now: InstantMs): LiveMix[] =>
  facts
    .all("mix")
    .flatMap((mix) => {
      const sheet = facts.get("sheet", mix.sheetId);
      if (sheet?.productId !== productId || mix.mixedAt > now) return [];
      const use = mixUse(mix, sheet, airHere(facts, mix.roomId, mix.mixedAt), now);
      return (use.usableUntilAt ?? mix.mixedAt + dayMs) >= now ? [{ mix, ...use }] : [];
    })
    .sort((one, other) => other.mix.mixedAt - one.mix.mixedAt);

/** Out of nothing that anybody wrote down. */
export const noPot = "none";

export type PotChoice = { id: string; words: string; detail?: string; told: { mixId?: string; canIds?: string[] } };

/** Out of what a coat can have come: a mix that still stands, a can, or nothing written down. */
export const potChoices = (facts: Facts, productId: string, now: InstantMs, zone: string): PotChoice[] => [
  ...liveMixes(facts, productId, now).map(({ mix, usableUntilAt }) => ({
    id: mix.id,
    words: `The mix of ${moment(mix.mixedAt, now, zone)}`,
    detail: `${volume(mix.millilitres)}${usableUntilAt === undefined ? "" : `, good until ${moment(usableUntilAt, now, zone)}`}`,
    told: { mixId: mix.id },
  })),
  ...cansShown(facts, productId, now, zone).map(({ can, lifeWords }) => ({
    id: can.id,
    words: `Can ${can.label}, as it is`,
    detail: lifeWords,
    told: { canIds: [can.id] },
  })),
  { id: noPot, words: "Not written down", told: {} },
];

/** The only mix that still stands; with several, or none, somebody has to say. */
const likelyPot = (choices: readonly PotChoice[]): PotChoice | undefined => {
  const mixes = choices.filter(({ told }) => told.mixId !== undefined);
  return mixes.length === 1 ? mixes[0] : choices.find(({ id }) => id === noPot);
};

/** What somebody chose, as long as it is one of the choices; else what is likely. */
export const chosenPot = (choices: readonly PotChoice[], id: string | undefined): PotChoice | undefined =>
  choices.find((choice) => choice.id === id) ?? likelyPot(choices);
