import type { Authority, Caution, CautionId, Respirator } from "~/core/safety/cautions";
import { listed } from "~/ui/trade-words";

/** A caution in one or two plain sentences. None says that anything is without danger. Facts: common practice of the trade. */
export const cautionWords: Record<CautionId, string> = {
  "lead-dust": "Old paint may hold lead. No dry sanding, no heat; keep it wet and contained, and children away.",
  "lead-waste": "Chips, water and rags from old paint are kept together and go where the local rules say.",
  "tell-the-buyer": "The buyer is told about the old paint, in writing.",
  "old-finish-dust": "Nobody knows what an old finish holds: wet it or take it off by hand, and wash before you eat.",
  "sanding-dust": "Fine dust: extraction at the tool, and no flame near it.",
  "heat-and-fire": "Heat can start a fire inside the wood. An extinguisher at hand, and look again an hour later.",
  "stripper-on-skin-and-lungs": "Stripper burns skin and eyes. Gloves that stand it, goggles, moving air.",
  "no-methylene-chloride":
    "No stripper with methylene chloride (dichloromethane): its vapour kills. US rule 40 CFR 751 bars it from nearly all such work.",
  "solvent-vapour": "Solvent vapour: moving air, out of the room. It sinks and gathers low.",
  "flame-near-vapour": "No flame, no spark, no heater element while vapour is in the room.",
  "flammables-apart": "Cans shut, away from heaters and the way out; no more in the room than today needs.",
  "isocyanate-air": "Sprayed two-component finish harms lungs for good. Nobody else in the room.",
  overspray: "Spray mist: an exhaust that runs before, during and after, and nobody without a mask.",
  "oily-rags":
    "Rags wet with oil can light themselves. Flat outdoors in one layer, or under water in a lidded metal can.",
  "wet-wood": "Washed wood needs to dry before anything seals it in.",
  "powder-alkali": "The powder is alkaline. Goggles while mixing.",
};

const respiratorWords: Record<Respirator, string> = {
  particles: "particle filters of class P100 or P3",
  "organic-vapour": "cartridges for organic vapour",
  "supplied-air": "supplied air, not a cartridge",
};

/** What to wear over nose and mouth for all of it; supplied air stands for everything weaker. */
export function maskWords(cautions: readonly Pick<Caution, "respirator">[]): string | undefined {
  const worn = new Set(cautions.flatMap(({ respirator }) => respirator ?? []));
  if (worn.size === 0) return undefined;
  const kinds: Respirator[] = worn.has("supplied-air") ? ["supplied-air"] : [...worn];
  return `Mask that fits your face: ${listed(kinds.map((kind) => respiratorWords[kind]))}.`;
}

const authorityWords: Record<Authority, string> = {
  "data-sheet": "the product’s data sheet",
  "local-code": "the local code",
  "licensed-practice": "licensed practice",
};
const authorities = Object.keys(authorityWords) as Authority[];

/** Who outranks these lines. */
export function deferWords(cautions: readonly Pick<Caution, "defersTo">[]): string {
  const named = authorities.filter((authority) => cautions.some(({ defersTo }) => defersTo.includes(authority)));
  const words = listed(named.map((authority) => authorityWords[authority]));
  return `${words[0]?.toUpperCase()}${words.slice(1)} ${named.length === 1 ? "goes" : "go"} before this.`;
}
