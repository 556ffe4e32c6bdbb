/**
 * What to be careful about in a piece of work, as data: screens word it, and each row says who outranks us. A caution
 * never says that something is without danger; where none is listed, the data sheet and the local code still rule.
 */
import type { Method } from "../shop/entities/pieces";
import type { Family } from "../shop/entities/products";
import type { LeadState } from "./lead";

export type Authority = "data-sheet" | "local-code" | "licensed-practice";

export type CautionId =
  | "lead-dust"
  | "lead-waste"
  | "tell-the-buyer"
  | "sanding-dust"
  | "heat-and-fire"
  | "stripper-on-skin-and-lungs"
  | "solvent-vapour"
  | "flame-near-vapour"
  | "isocyanate-air"
  | "oily-rags"
  | "wet-wood"
  | "powder-alkali";

export type Caution = {
  id: CautionId;
  about: "lungs" | "skin" | "fire" | "lead" | "wood";
  defersTo: readonly Authority[];
};

/** Source of every row: common practice of the trade, and the agencies named beside it. */
const cautionById: Record<CautionId, Omit<Caution, "id">> = {
  // EPA 40 CFR 745 is written for housing; its work practices are the model
  "lead-dust": { about: "lead", defersTo: ["local-code", "licensed-practice"] },
  "lead-waste": { about: "lead", defersTo: ["local-code", "licensed-practice"] },
  "tell-the-buyer": { about: "lead", defersTo: ["local-code"] },
  "sanding-dust": { about: "lungs", defersTo: ["data-sheet"] },
  "heat-and-fire": { about: "fire", defersTo: ["local-code"] },
  // EPA 40 CFR 751: methylene chloride is no longer for such work
  "stripper-on-skin-and-lungs": { about: "skin", defersTo: ["data-sheet", "local-code"] },
  "solvent-vapour": { about: "lungs", defersTo: ["data-sheet", "local-code"] },
  // NFPA 33 for spraying of flammable materials
  "flame-near-vapour": { about: "fire", defersTo: ["data-sheet", "local-code"] },
  // NIOSH: sprayed isocyanates call for supplied air
  "isocyanate-air": { about: "lungs", defersTo: ["data-sheet", "local-code", "licensed-practice"] },
  // NFPA, oily rags
  "oily-rags": { about: "fire", defersTo: ["data-sheet", "local-code"] },
  "wet-wood": { about: "wood", defersTo: ["data-sheet"] },
  "powder-alkali": { about: "lungs", defersTo: ["data-sheet"] },
};

const byMethod: Record<Method, readonly CautionId[]> = {
  "dry-sand": ["sanding-dust"],
  "wet-sand": [],
  heat: ["heat-and-fire"],
  strip: ["stripper-on-skin-and-lungs"],
  glue: [],
  wash: ["wet-wood"],
  fill: ["sanding-dust"],
  mask: [],
  clean: [],
};

const byFamily: Partial<Record<Family, readonly CautionId[]>> = {
  "milk-paint": ["powder-alkali"],
  "oil-varnish": ["oily-rags", "solvent-vapour"],
  "alkyd-enamel": ["oily-rags", "solvent-vapour", "flame-near-vapour"],
  shellac: ["solvent-vapour", "flame-near-vapour"],
  "shellac-blocker": ["solvent-vapour", "flame-near-vapour"],
  lacquer: ["solvent-vapour", "flame-near-vapour"],
  "two-component": ["isocyanate-air", "solvent-vapour", "flame-near-vapour"],
  "drying-oil": ["oily-rags"],
  "oil-wax": ["oily-rags"],
  wax: ["oily-rags", "solvent-vapour"],
  "oil-stain": ["oily-rags", "solvent-vapour"],
  stripper: ["stripper-on-skin-and-lungs"],
  thinner: ["solvent-vapour", "flame-near-vapour"],
};

const byLead = (state: LeadState, methods: readonly Method[]): readonly CautionId[] => {
  if (state === "not-painted" || state === "later-than-ban" || state === "negative") return [];
  const touchesPaint = methods.some((method) => method !== "glue" && method !== "mask");
  return touchesPaint ? ["lead-dust", "lead-waste", "tell-the-buyer"] : ["tell-the-buyer"];
};

/** The cautions for a piece of work, each once: lead first, then the methods, then the products. */
export const cautionsFor = (work: {
  methods: readonly Method[];
  families: readonly Family[];
  leadState: LeadState;
}): Caution[] => {
  const ids = [
    ...byLead(work.leadState, work.methods),
    ...work.methods.flatMap((method) => byMethod[method]),
    ...work.families.flatMap((family) => byFamily[family] ?? []),
  ];
  return [...new Set(ids)].map((id) => ({ id, ...cautionById[id] }));
};
