/**
 * What to be careful about in a piece of work, as data: screens word it, and each row says who outranks us. A caution
 * never says that something is without danger; where none is listed, the data sheet and the local code still rule.
 */
import type { Method } from "../shop/entities/pieces";
import type { Family } from "../shop/entities/products";
import { isFlammable } from "./ignition";
import type { LeadState } from "./lead";

export type Authority = "data-sheet" | "local-code" | "licensed-practice";

export type CautionId =
  | "lead-dust"
  | "lead-waste"
  | "tell-the-buyer"
  | "old-finish-dust"
  | "sanding-dust"
  | "heat-and-fire"
  | "stripper-on-skin-and-lungs"
  | "no-methylene-chloride"
  | "solvent-vapour"
  | "flame-near-vapour"
  | "flammables-apart"
  | "isocyanate-air"
  | "overspray"
  | "oily-rags"
  | "wet-wood"
  | "powder-alkali";

/** What is worn over nose and mouth. Sources: NIOSH 42 CFR 84 and OSHA 1910.134; a mask protects only where it fits. */
export type Respirator = "particles" | "organic-vapour" | "supplied-air";

export type Caution = {
  id: CautionId;
  about: "lungs" | "skin" | "fire" | "lead" | "wood";
  defersTo: readonly Authority[];
  respirator?: Respirator;
};

/** Source of every row: common practice of the trade, and the agencies named beside it. */
const cautionById: Record<CautionId, Omit<Caution, "id">> = {
  // EPA 40 CFR 745 is written for housing; its work practices are the model
  "lead-dust": { about: "lead", defersTo: ["local-code", "licensed-practice"], respirator: "particles" },
  "lead-waste": { about: "lead", defersTo: ["local-code", "licensed-practice"] },
  "tell-the-buyer": { about: "lead", defersTo: ["local-code"] },
  "old-finish-dust": { about: "lungs", defersTo: ["local-code", "licensed-practice"], respirator: "particles" },
  "sanding-dust": { about: "lungs", defersTo: ["data-sheet", "local-code"], respirator: "particles" },
  "heat-and-fire": { about: "fire", defersTo: ["local-code"] },
  "stripper-on-skin-and-lungs": {
    about: "skin",
    defersTo: ["data-sheet", "local-code"],
    respirator: "organic-vapour",
  },
  // 40 CFR 751 subpart B (89 FR 39254, in force 8 July 2024), and 84 FR 11420 for consumers since 2019
  "no-methylene-chloride": { about: "lungs", defersTo: ["data-sheet", "local-code", "licensed-practice"] },
  "solvent-vapour": { about: "lungs", defersTo: ["data-sheet", "local-code"], respirator: "organic-vapour" },
  // NFPA 33 for spraying of flammable materials
  "flame-near-vapour": { about: "fire", defersTo: ["data-sheet", "local-code"] },
  // 29 CFR 1910.107: no more at hand than one day or one shift needs; from memory
  "flammables-apart": { about: "fire", defersTo: ["data-sheet", "local-code"] },
  // NIOSH: sprayed isocyanates call for supplied air
  "isocyanate-air": {
    about: "lungs",
    defersTo: ["data-sheet", "local-code", "licensed-practice"],
    respirator: "supplied-air",
  },
  overspray: { about: "lungs", defersTo: ["data-sheet", "local-code"], respirator: "particles" },
  // NFPA, oily rags
  "oily-rags": { about: "fire", defersTo: ["data-sheet", "local-code"] },
  "wet-wood": { about: "wood", defersTo: ["data-sheet"] },
  "powder-alkali": { about: "lungs", defersTo: ["data-sheet"], respirator: "particles" },
};

const byMethod: Record<Method, readonly CautionId[]> = {
  "dry-sand": ["sanding-dust"],
  "wet-sand": [],
  heat: ["heat-and-fire"],
  strip: ["stripper-on-skin-and-lungs", "no-methylene-chloride"],
  glue: [],
  wash: ["wet-wood"],
  fill: ["sanding-dust"],
  mask: [],
  clean: [],
};

const byFamily: Partial<Record<Family, readonly CautionId[]>> = {
  "milk-paint": ["powder-alkali"],
  "oil-varnish": ["oily-rags", "solvent-vapour"],
  "alkyd-enamel": ["oily-rags", "solvent-vapour"],
  shellac: ["solvent-vapour"],
  "shellac-blocker": ["solvent-vapour"],
  lacquer: ["solvent-vapour"],
  "two-component": ["isocyanate-air"],
  "drying-oil": ["oily-rags"],
  "oil-wax": ["oily-rags"],
  wax: ["oily-rags", "solvent-vapour"],
  "oil-stain": ["oily-rags", "solvent-vapour"],
  stripper: ["stripper-on-skin-and-lungs", "no-methylene-chloride"],
  thinner: ["solvent-vapour"],
};

const byLead = (state: LeadState, methods: readonly Method[]): readonly CautionId[] => {
  if (state === "not-painted" || state === "later-than-ban" || state === "negative") return [];
  const touchesPaint = methods.some((method) => method !== "glue" && method !== "mask");
  return touchesPaint ? ["lead-dust", "lead-waste", "tell-the-buyer"] : ["tell-the-buyer"];
};

export type WorkAtHand = {
  methods: readonly Method[];
  families: readonly Family[];
  leadState: LeadState;
  /** An old finish or paint lies where it is sanded. */
  isOldFinish?: boolean;
  isSprayed?: boolean;
};

/** The cautions for a piece of work, each once: lead first, then the methods, then the products. */
export const cautionsFor = ({ methods, families, leadState, isOldFinish, isSprayed }: WorkAtHand): Caution[] => {
  const isFire = families.some((family) => isFlammable(family));
  const ids: CautionId[] = [
    ...byLead(leadState, methods),
    ...(isOldFinish && methods.includes("dry-sand") ? (["old-finish-dust"] as const) : []),
    ...methods.flatMap((method) => byMethod[method]),
    ...families.flatMap((family) => byFamily[family] ?? []),
    ...(isFire ? (["flame-near-vapour", "flammables-apart"] as const) : []),
    ...(isSprayed ? (["overspray"] as const) : []),
  ];
  return [...new Set(ids)].map((id) => ({ id, ...cautionById[id] }));
};
