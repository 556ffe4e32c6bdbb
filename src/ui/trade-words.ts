/** The shop's own word for each value that the core carries by its key. */
import type { Milestone } from "~/core/cure/needed-time";
import type { ClosingPoint } from "~/core/safety/closing";
import type { Role } from "~/core/shop/entities/people";
import type { Method, Stage, Wrap } from "~/core/shop/entities/pieces";
import type { Family } from "~/core/shop/entities/products";
import type { TestKind } from "~/core/shop/entities/tests";

export const roleWords: Record<Role | "nobody", string> = {
  owner: "an owner",
  partner: "a partner",
  helper: "a helper",
  bookkeeper: "the bookkeeper",
  outlet: "an outlet",
  nobody: "somebody who is not in this shop",
};

export const stageWords: Record<Stage, string> = {
  acquisition: "acquisition",
  repair: "repair",
  prep: "prep",
  finish: "finish",
  cure: "cure",
  listed: "listed",
  sold: "sold",
};

export const methodWords: Record<Method, string> = {
  "dry-sand": "dry sanding",
  "wet-sand": "wet sanding",
  heat: "heat",
  strip: "stripping",
  glue: "gluing",
  wash: "washing",
  fill: "filling",
  mask: "masking",
  clean: "cleaning",
};

export const testWords: Record<TestKind, string> = {
  "fingertip-on-glass": "fingertip on glass",
  "paper-drop": "paper drop",
  "recoat-patch": "recoat patch",
  "thumb-twist": "thumb twist",
  fingernail: "fingernail",
  "paper-press": "paper press",
  "bleed-patch": "bleed patch",
  "lead-swab": "lead swab",
  "lead-laboratory": "laboratory lead test",
  "moisture-meter": "moisture meter",
  weight: "weighing",
  "pull-or-tap": "pull or tap",
  "chalk-look": "look for chalk",
  "drop-on-glass": "drop on glass",
};

/** What a film has reached, as the bench says it. */
export const milestoneWords: Record<Milestone, string> = {
  "set-to-touch": "touch",
  "tack-free": "tack-free",
  "recoat-opens": "the next coat",
  handle: "handling",
  "light-use": "light use",
  "press-together": "pressing together",
  stack: "stacking",
  "snug-wrap": "snug wrapping",
  "plastic-wrap": "plastic",
  "full-cure": "full cure",
};

export const familyWords: Record<Family, string> = {
  "water-borne-paint": "water-borne paint",
  "chalk-paint": "chalk paint",
  "milk-paint": "milk paint",
  "water-borne-clear": "water-borne clear",
  "water-borne-blocker": "water-borne stain blocker",
  "oil-varnish": "oil varnish",
  "alkyd-enamel": "alkyd enamel",
  shellac: "shellac",
  "shellac-blocker": "shellac stain blocker",
  lacquer: "lacquer",
  "two-component": "two-component coating",
  "drying-oil": "drying oil",
  "oil-wax": "oil wax",
  wax: "wax",
  "oil-stain": "oil stain",
  glue: "glue",
  filler: "filler",
  clay: "air-dry clay",
  stripper: "stripper",
  thinner: "thinner",
};

export const wrapWords: Record<Wrap, string> = {
  "loose-paper": "loose paper",
  "loose-blanket": "a loose blanket",
  "snug-paper": "snug paper and straps",
  "snug-blanket": "a snug blanket and straps",
  foam: "foam",
  foil: "foil",
  plastic: "plastic",
};

/** What somebody wants to do, as the start of a sentence. */
export const actionWords: Record<string, string> = {
  touch: "Touch",
  sand: "Sand",
  recoat: "Recoat",
  move: "Carry it",
  "move-by-bearers": "Carry on bearers",
  "move-by-hands": "Handle",
  handle: "Handle",
  "press-together": "Press together",
  stack: "Stack",
  wrap: "Wrap",
  "hand-over": "Hand over",
  use: "Use",
  glue: "Glue",
  "light-use": "Light use",
  "full-cure": "Full cure",
};

export const actionWord = (action: string): string => actionWords[action] ?? action.replaceAll("-", " ");

/** What the last one out looks at, as the middle of a sentence. */
export const closingWords: Record<ClosingPoint, string> = {
  rags: "oily rags",
  flames: "open flames",
  heater: "the heaters",
  wipes: "finish to be wiped back",
  "cold-glue": "glue in the cold",
  timers: "running timers",
  unsent: "changes not sent from this device",
};

/** "a, b and c" */
export const listed = (things: readonly string[]): string =>
  things.length < 2 ? (things[0] ?? "") : `${things.slice(0, -1).join(", ")} and ${things.at(-1)}`;
