import type { Family } from "../shop/entities/products";
import type { Coat, HandTest, Product, Sheet, Surface } from "../shop/tables";

/** One coat of a surface as the check sees it: what lies there, or is to come, with its sheet. */
export type Layer = {
  coatId: string;
  sheet: Sheet;
  family: Family;
  productId: Product["id"];
  colour?: string;
  isLaid: boolean;
  wetFilmMicrometres?: number;
  /** Thinner per hundred parts of the product, of the mix that it was laid from. */
  thinnedPercent?: number;
};

/** A tried patch and whether its result may be relied on: a helper's pass where the shop wants a partner's word may not. */
export type Patch = { test: HandTest; mayOpen: boolean };

/** All that the finish schedule of one surface is checked against. */
export type Schedule = {
  surface: Surface;
  wood?: string;
  /** From the wood up, without what was struck or removed. */
  layers: readonly Layer[];
  patches: readonly Patch[];
  /** It will lie against another face: a door on its frame, leaves, a stack. */
  isFaceToFace: boolean;
  /** The other surfaces of the piece. */
  beside: readonly { surfaceId: string; layers: readonly Layer[]; isMasked: boolean }[];
  /** A scuff between its coats is a task already. */
  isScuffPlanned: boolean;
};

export type BleedCause = "said" | "tannin" | "knots" | "red-stain" | "old-finish" | "patch-failed";

/** What would put a finding right. Those that are one act can be done from where they are read. */
export type Mend =
  | { mend: "insert-barrier"; families: Family[]; belowCoatId: string; coats: number }
  | { mend: "try-patch"; productId: string; hours: number }
  | { mend: "add-scuff-task"; coatIds: string[] }
  | { mend: "add-mask-task"; surfaceIds: string[] }
  | { mend: "strike"; coatId: string }
  | { mend: "wax-last"; coatId: string }
  | { mend: "wait"; waitMin: number }
  | { mend: "remove-below"; underFamily: Family }
  | { mend: "other-finish"; underFamily: Family }
  | { mend: "two-thin-coats" }
  | { mend: "top-coat" }
  | { mend: "lay-between"; materials: ("felt" | "paper" | "foam")[] }
  | { mend: "sand-by-hand"; coarsestGrit: number };

/** What was found, and the figures behind it. */
type Why =
  | { kind: "wax-below"; overFamily: Family; isWaxLaid: boolean }
  | { kind: "not-over"; underFamily: Family; overFamily: Family; isOwn: boolean }
  | { kind: "barrier-needed"; underFamily: Family; overFamily: Family; isOwn: boolean }
  | { kind: "wait-or-barrier"; underFamily: Family; overFamily: Family; waitMin: number }
  | { kind: "cured-first"; underFamily: Family; overFamily: Family; waitMin: number }
  | { kind: "patch-first"; underFamily: Family; overFamily: Family; isOwn: boolean }
  | { kind: "scuff-missing"; underFamily: Family; overFamily: Family }
  | { kind: "bleed"; cause: BleedCause; hasWeakBlocker: boolean; barriersNeeded: number; patchDueAt?: number }
  | { kind: "bleed-not-known" }
  | { kind: "old-finish-below" }
  | { kind: "clay-unsealed" }
  | { kind: "thinned-over-limit"; thinnedPercent: number; limitPercent: number }
  | { kind: "never-face-to-face"; family: Family }
  | { kind: "film-too-thick"; dryMicrometres: number; limitMicrometres: number }
  | { kind: "coat-too-thick"; wetMicrometres: number; sheetMicrometres: number }
  | { kind: "no-top-coat"; family: Family }
  | { kind: "veneer"; veneerMicrometres?: number }
  | { kind: "mask-beside"; surfaceIds: string[] }
  | { kind: "wax-beside"; surfaceIds: string[] };

/**
 * One thing that the check found. What stops keeps the piece from its finish; a remark is for the person who plans. Nobody
 * stores findings: they follow from the schedule as it stands.
 */
export type Finding = Why & {
  level: "stops" | "remark";
  surfaceId: Surface["id"];
  coatIds: Coat["id"][];
  mends: Mend[];
};
export type FindingKind = Finding["kind"];
export type FindingOf<Kind extends FindingKind> = Extract<Finding, { kind: Kind }>;

/** A finding before it is said where. */
export type Found = Why & Omit<Finding, keyof Why | "surfaceId" | "kind">;
