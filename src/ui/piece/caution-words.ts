import type { Authority, Caution, CautionId } from "~/core/safety/cautions";
import { listed } from "~/ui/trade-words";

/** A caution in one or two plain sentences. None says that anything is without danger. Facts: common practice of the trade. */
export const cautionWords: Record<CautionId, string> = {
  "lead-dust": "Old paint may hold lead. No dry sanding, no heat; keep it wet and contained, and children away.",
  "lead-waste": "Chips, water and rags from old paint are kept together and go where the local rules say.",
  "tell-the-buyer": "The buyer is told about the old paint, in writing.",
  "sanding-dust": "Fine dust: a mask that fits, extraction at the tool, and no flame near it.",
  "heat-and-fire": "Heat can start a fire inside the wood. An extinguisher at hand, and look again an hour later.",
  "stripper-on-skin-and-lungs": "Stripper burns skin and eyes. Gloves that stand it, goggles, moving air.",
  "solvent-vapour": "Solvent vapour: moving air and a cartridge mask. It sinks and gathers low.",
  "flame-near-vapour": "No flame, no spark, no heater element while vapour is in the room.",
  "isocyanate-air": "Sprayed two-component finish harms lungs for good. Supplied air, not a cartridge.",
  "oily-rags":
    "Rags wet with oil can light themselves. Flat outdoors in one layer, or under water in a lidded metal can.",
  "wet-wood": "Washed wood needs to dry before anything seals it in.",
  "powder-alkali": "The powder is alkaline. A dust mask and goggles while mixing.",
};

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
