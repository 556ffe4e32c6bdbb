/** What the check of a finish schedule found, in words: what, why, and what would mend it. */
import type { BleedCause, Finding, FindingKind, FindingOf, Mend } from "~/core/coating/schedule-findings";
import type { Family } from "~/core/shop/entities/products";
import { duration } from "~/ui/format";
import { familyWords, listed } from "~/ui/trade-words";

export type FindingNames = { surface: (id: string) => string };
export type FindingWords = { found: string; why: string };

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
const over = (upper: Family, lower: Family) => `${capital(familyWords[upper])} over ${familyWords[lower]}`;
const bySheet = (isOwn: boolean) =>
  isOwn ? "the can’s own sheet says so" : "common practice; no sheet of the can says otherwise";

const bleedWords: Record<BleedCause, string> = {
  said: "it was noted that this surface bleeds",
  tannin: "this wood holds tannin",
  knots: "knots weep resin, often weeks later",
  "red-stain": "a red stain comes up through water",
  "old-finish": "nobody knows what the old finish holds",
  "patch-failed": "the patch showed it",
};

type Table = { [Kind in FindingKind]: (finding: FindingOf<Kind>, names: FindingNames) => FindingWords };

const table: Table = {
  "wax-below": (f) => ({
    found: `${capital(familyWords[f.overFamily])} over wax.`,
    why: "Nothing but wax holds on wax: it goes on last.",
  }),
  "not-over": (f) => ({
    found: `${over(f.overFamily, f.underFamily)} does not hold.`,
    why: `${capital(bySheet(f.isOwn))}.`,
  }),
  "barrier-needed": (f) => ({
    found: `${over(f.overFamily, f.underFamily)} needs a barrier between.`,
    why: `${capital(bySheet(f.isOwn))}.`,
  }),
  "wait-or-barrier": (f) => ({
    found: `${over(f.overFamily, f.underFamily)} waits ${duration(f.waitMin * 60)} of its sheet’s air.`,
    why: "The can’s own sheet says so.",
  }),
  "cured-first": (f) => ({
    found: `${over(f.overFamily, f.underFamily)}, once that has cured: ${duration(f.waitMin * 60)} of its sheet’s air.`,
    why: "A fresh film below wrinkles, or lets go. Common practice.",
  }),
  "patch-first": (f) => ({
    found: `${over(f.overFamily, f.underFamily)}: try it first.`,
    why: f.isOwn ? "The can’s own sheet asks for a test." : "Those who know disagree about this pair.",
  }),
  "scuff-missing": (f) => ({
    found:
      f.underFamily === f.overFamily
        ? `No scuff is planned between coats of ${familyWords[f.overFamily]}.`
        : `No scuff is planned before ${familyWords[f.overFamily]} over ${familyWords[f.underFamily]}.`,
    why: "The upper coat holds by the scratches: 220 to 320 grit, then the dust off.",
  }),
  bleed: (f) => ({
    found:
      f.cause === "patch-failed" && f.barriersNeeded > 1
        ? "It bleeds through a barrier coat."
        : "Something may bleed through this pale coat.",
    why: `${capital(bleedWords[f.cause])}, and more coats of colour never hide it.${
      f.hasWeakBlocker ? " A water-borne blocker is weak and slow against it." : ""
    }`,
  }),
  "bleed-not-known": () => ({
    found: "Whether this wood bleeds is not known.",
    why: "Oak, mahogany, cherry, walnut, redwood, cedar and knots stain pale water-borne paint. Name the wood, or try a patch.",
  }),
  "old-finish-below": () => ({
    found: "An old finish lies below, and nobody knows which.",
    why: "It may be waxed or greasy. Clean it, scuff it, and try a patch where nobody looks.",
  }),
  "clay-unsealed": () => ({
    found: "Clay takes water up again.",
    why: "Seal it before anything water-borne, once it is dry and even in colour.",
  }),
  "thinned-over-limit": (f) => ({
    found: `Thinned ${Math.round(f.thinnedPercent)} % over its limit of ${f.limitPercent} %.`,
    why: "Past the sheet’s limit nobody says how the film dries. Look at it by hand before it is trusted.",
  }),
  "never-face-to-face": (f) => ({
    found: `Faces of ${familyWords[f.family]} never lie bare on each other.`,
    why: "It stays soft under pressure at any age. No newsprint, corrugated board or plastic between either.",
  }),
  "film-too-thick": (f) => ({
    found: `${Math.round(f.dryMicrometres)} µm dry in all, over ${f.limitMicrometres} µm.`,
    why: "A brittle film this thick cracks later. From memory: the can’s sheet rules.",
  }),
  "coat-too-thick": (f) => ({
    found: `${f.wetMicrometres} µm wet where the sheet lays ${f.sheetMicrometres} µm.`,
    why: "Twice the film takes four times as long to dry, and runs.",
  }),
  "no-top-coat": (f) => ({
    found: `${capital(familyWords[f.family])} is the last coat.`,
    why: "It is not made to be touched and wiped.",
  }),
  veneer: (f) => ({
    found:
      f.veneerMicrometres === undefined
        ? "Veneer is sanded here."
        : `Veneer of ${(f.veneerMicrometres / 1000).toFixed(1)} mm is sanded here.`,
    why: "Coarse grit is through it in seconds; stop at any dark ring.",
  }),
  "mask-beside": (f, names) => ({
    found: `${listed(f.surfaceIds.map(names.surface))} ${f.surfaceIds.length === 1 ? "gets" : "get"} other coats, and no masking is planned.`,
    why: "What is sprayed beside it lands on it.",
  }),
  "wax-beside": (f, names) => ({
    found: `${listed(f.surfaceIds.map(names.surface))} ${f.surfaceIds.length === 1 ? "ends" : "end"} in wax.`,
    why: "A trace of wax on this surface and its next coat lets go. Wax the whole piece last.",
  }),
};

/** What was found and why it matters. */
export const findingWords = (finding: Finding, names: FindingNames): FindingWords =>
  (table[finding.kind] as (finding: Finding, names: FindingNames) => FindingWords)(finding, names);

const orOf = (families: readonly Family[]) => families.map((family) => familyWords[family]).join(" or ");

/** What would put it right, as an instruction. */
export const mendWords = (mend: Mend, names: FindingNames): string => {
  switch (mend.mend) {
    case "insert-barrier":
      return `${mend.coats > 1 ? `${mend.coats} coats` : "A coat"} of ${orOf(mend.families)} below it`;
    case "try-patch":
      return `Try a patch and look after ${mend.hours} h`;
    case "add-scuff-task":
      return "Put the scuff on the list of work";
    case "add-mask-task":
      return `Put masking ${listed(mend.surfaceIds.map(names.surface))} on the list of work`;
    case "strike":
      return "Strike that coat";
    case "wax-last":
      return "Put the wax on last";
    case "wait":
      return `Wait for it: ${duration(mend.waitMin * 60)} of its sheet’s air`;
    case "remove-below":
      return `Take the ${familyWords[mend.underFamily]} off first`;
    case "other-finish":
      return `Take a finish that goes with ${familyWords[mend.underFamily]}`;
    case "two-thin-coats":
      return "Plan two thin coats instead";
    case "top-coat":
      return "Plan a clear coat or wax on top";
    case "lay-between":
      return `Keep ${mend.materials.join(" or ")} between, always`;
    case "sand-by-hand":
      return `Sand by hand, ${mend.coarsestGrit} grit or finer, no belt`;
  }
};
