import type { Family } from "../shop/entities/products";

/**
 * Which coat goes over which. Source: common practice of the finishing trade; no standard exists, and the maker's sheet
 * outranks it.
 *
 * - Y yes · S after scuffing · D only over a cured film, then scuff · B only over a barrier coat (dewaxed shellac or the
 *   maker's primer) · T try a patch first, sources differ · N no: remove what lies below.
 */
export type PairRule = "Y" | "S" | "D" | "B" | "T" | "N";

const columns = [
  "shellac",
  "wax",
  "drying-oil",
  "oil-wax",
  "water-borne-paint",
  "water-borne-clear",
  "oil-varnish",
  "lacquer",
  "chalk-paint",
  "milk-paint",
  "two-component",
] as const;
type Column = (typeof columns)[number];

/** What behaves like which column; blockers, stains and fillers go where their own kind goes. */
const columnByFamily: Partial<Record<Family, Column>> = {
  shellac: "shellac",
  "shellac-blocker": "shellac",
  wax: "wax",
  "drying-oil": "drying-oil",
  "oil-stain": "drying-oil",
  "oil-wax": "oil-wax",
  "water-borne-paint": "water-borne-paint",
  "water-borne-blocker": "water-borne-paint",
  "water-borne-clear": "water-borne-clear",
  "oil-varnish": "oil-varnish",
  "alkyd-enamel": "oil-varnish",
  lacquer: "lacquer",
  "chalk-paint": "chalk-paint",
  "milk-paint": "milk-paint",
  "two-component": "two-component",
};

/** Rows: what lies below; one letter per column above. */
const rows: Partial<Record<Family, string>> = {
  shellac: "YDNNSSSYSBS",
  wax: "NYNNNNNNTNN",
  "drying-oil": "DDDDBBDDBNN",
  "oil-stain": "DDDDBBDDBNN",
  "oil-wax": "TYTYBNTNBNN",
  "water-borne-paint": "SDNNSDDNSBT",
  "water-borne-clear": "SDNNSSSTSBS",
  "oil-varnish": "SDNNSSSNSBN",
  "alkyd-enamel": "SDNNSSSNSBN",
  lacquer: "SDNNBBSYSBT",
  "chalk-paint": "DDTDDDDTYYT",
  "milk-paint": "DDTDDDDTYYT",
  "two-component": "SDNNSSSTSBS",
  // a blocker is made to be coated: films yes, what must sink into wood no
  "shellac-blocker": "YDNNYYYYYBS",
  "water-borne-blocker": "YDNNYYYTYBT",
};

/**
 * The rule for laying one family over another. Nothing where wood, filler or clay lies below, and nothing within one
 * family, where the recoat window alone decides.
 */
export const pairRule = (under: Family, over: Family): PairRule | undefined => {
  const column = columnByFamily[over];
  const row = rows[under];
  if (under === over || column === undefined || row === undefined) return undefined;
  return row[columns.indexOf(column)] as PairRule;
};
