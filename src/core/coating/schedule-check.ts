/**
 * A finish schedule, checked before a can is opened. Everything here is common practice of the finishing trade unless a
 * line names a source, and the product's own sheet outranks it.
 */
import { neededTime } from "../cure/needed-time";
import type { Family } from "../shop/entities/products";
import { bleedFinding } from "./bleed";
import { barrierBetween, pairLine } from "./pair-line";
import type { Finding, Found, Layer, Mend, Schedule } from "./schedule-findings";
import { dryMicrometresOf } from "./schedule-totals";

type Step = { below: Layer; layer: Layer };

const barrierMend = (families: readonly Family[], belowCoatId: string): Mend => ({
  mend: "insert-barrier",
  families: [...families],
  belowCoatId,
  coats: 1,
});

/** Wax is last, always: nothing but wax holds on it. */
const overWax = ({ below, layer }: Step): Found => ({
  kind: "wax-below",
  level: "stops",
  coatIds: [below.coatId, layer.coatId],
  overFamily: layer.family,
  isWaxLaid: below.isLaid,
  mends: below.isLaid
    ? [{ mend: "remove-below", underFamily: below.family }]
    : [
        { mend: "wax-last", coatId: below.coatId },
        { mend: "strike", coatId: below.coatId },
      ],
});

const pairFinding = (step: Step): Found | undefined => {
  const { below, layer } = step;
  const [underFamily, overFamily] = [below.family, layer.family];
  const { rule, waitMin, barrierFamily, isOwn } = pairLine(layer.sheet, underFamily, overFamily);
  const coatIds = [below.coatId, layer.coatId];
  const between = barrierFamily ?? barrierBetween(underFamily, overFamily);
  const barrier = between === undefined ? [] : [barrierMend([between], layer.coatId)];
  if (rule === "N") {
    if (underFamily === "wax" && !isOwn) return overWax(step);
    const remove: Mend = below.isLaid
      ? { mend: "remove-below", underFamily }
      : { mend: "strike", coatId: below.coatId };
    const mends: Mend[] = [...barrier, remove, { mend: "other-finish", underFamily }];
    return { kind: "not-over", level: "stops", coatIds, underFamily, overFamily, isOwn, mends };
  }
  if (rule === "T") {
    const mends: Mend[] = [{ mend: "try-patch", productId: layer.productId, hours: 24 }, ...barrier];
    return { kind: "patch-first", level: "remark", coatIds, underFamily, overFamily, isOwn, mends };
  }
  if (rule === "B" && waitMin === undefined) {
    const mends = barrier.length > 0 ? barrier : [{ mend: "other-finish", underFamily } as const];
    return { kind: "barrier-needed", level: "stops", coatIds, underFamily, overFamily, isOwn, mends };
  }
  if (waitMin !== undefined) {
    const mends: Mend[] = [{ mend: "wait", waitMin }, ...(barrierFamily === undefined ? [] : barrier)];
    return { kind: "wait-or-barrier", level: "remark", coatIds, underFamily, overFamily, waitMin, mends };
  }
  if (rule !== "D") return undefined;
  const cured = neededTime(below.sheet, underFamily, { milestone: "full-cure" }, false);
  const cureMin = cured === "never" ? 0 : cured.min;
  const mends: Mend[] = [{ mend: "wait", waitMin: cureMin }, ...barrier];
  return { kind: "cured-first", level: "remark", coatIds, underFamily, overFamily, waitMin: cureMin, mends };
};

/** The next coat holds to what is scuffed; the gate asks for it again when the coat goes on. */
const needsScuff = ({ below, layer }: Step): boolean => {
  if (below.sheet.scuffAlways) return true;
  const { rule } = pairLine(layer.sheet, below.family, layer.family);
  return rule === "S" || rule === "D";
};

const scuffFinding = (steps: readonly Step[], isScuffPlanned: boolean): Found | undefined => {
  const missing = steps.filter((step) => !step.layer.isLaid && needsScuff(step));
  const first = missing[0];
  if (!first || isScuffPlanned) return undefined;
  const coatIds = missing.map(({ layer }) => layer.coatId);
  return {
    kind: "scuff-missing",
    level: "remark",
    coatIds,
    underFamily: first.below.family,
    overFamily: first.layer.family,
    mends: [{ mend: "add-scuff-task", coatIds }],
  };
};

const waterBorne: readonly Family[] = [
  "water-borne-paint",
  "water-borne-clear",
  "water-borne-blocker",
  "chalk-paint",
  "milk-paint",
];

/** What the ground itself asks of the first coat. */
const groundFinding = ({ surface, layers, isScuffPlanned }: Schedule): Found | undefined => {
  const [first] = layers;
  if (!first || first.isLaid) return undefined;
  const coatIds = [first.coatId];
  if (surface.substrate === "ornament" && waterBorne.includes(first.family))
    return {
      kind: "clay-unsealed",
      level: "remark",
      coatIds,
      mends: [barrierMend(["shellac", "shellac-blocker"], first.coatId)],
    };
  if (surface.substrate !== "old-finish" && surface.substrate !== "painted") return undefined;
  const patch: Mend = { mend: "try-patch", productId: first.productId, hours: 24 };
  return {
    kind: "old-finish-below",
    level: "remark",
    coatIds,
    mends: [...(isScuffPlanned ? [] : [{ mend: "add-scuff-task", coatIds } as const]), patch],
  };
};

/** Brittle films crack when they are thick: 4 mils of lacquer and 5 of a catalysed film, dry. From memory. */
const thickestMicrometres: Partial<Record<Family, number>> = { lacquer: 100, "two-component": 125 };

const thickFilm = ({ layers }: Schedule): Found | undefined => {
  const top = layers.at(-1);
  const limitMicrometres = top && thickestMicrometres[top.family];
  if (!top || top.isLaid || limitMicrometres === undefined) return undefined;
  const alike = layers.filter(({ family }) => family === top.family);
  const dryMicrometres = alike.reduce((sum, layer) => sum + (dryMicrometresOf(layer) ?? 0), 0);
  if (dryMicrometres <= limitMicrometres) return undefined;
  return {
    kind: "film-too-thick",
    level: "remark",
    coatIds: alike.map(({ coatId }) => coatId),
    dryMicrometres,
    limitMicrometres,
    mends: [{ mend: "strike", coatId: top.coatId }],
  };
};

/** Half as much again as the sheet's film more than doubles its time: drying goes with the square of the film. */
const thickCoats = ({ layers }: Schedule): Found[] =>
  layers.flatMap(({ coatId, isLaid, wetFilmMicrometres: wet, sheet: { wetFilmMicrometres: stated } }): Found[] =>
    isLaid || wet === undefined || stated === undefined || wet < 1.5 * stated
      ? []
      : [
          {
            kind: "coat-too-thick",
            level: "remark",
            coatIds: [coatId],
            wetMicrometres: wet,
            sheetMicrometres: stated,
            mends: [{ mend: "two-thin-coats" }],
          },
        ],
  );

const thinnedCoats = ({ layers }: Schedule): Found[] =>
  layers.flatMap(({ coatId, thinnedPercent, sheet: { thinLimitPercent } }): Found[] =>
    thinnedPercent === undefined || thinLimitPercent === undefined || thinnedPercent <= thinLimitPercent
      ? []
      : [
          {
            kind: "thinned-over-limit",
            level: "remark",
            coatIds: [coatId],
            thinnedPercent,
            limitPercent: thinLimitPercent,
            mends: [],
          },
        ],
  );

/** Faces of a film that stays soft under pressure never lie bare on each other. */
const faceFinding = ({ layers, isFaceToFace }: Schedule): Found | undefined => {
  const top = layers.at(-1);
  if (!top || !isFaceToFace) return undefined;
  if (neededTime(top.sheet, top.family, { milestone: "press-together" }, true) !== "never") return undefined;
  const materials = top.sheet.stackWith.map(({ material }) => material);
  return {
    kind: "never-face-to-face",
    level: "remark",
    coatIds: [top.coatId],
    family: top.family,
    mends: [
      ...(materials.length > 0 ? [{ mend: "lay-between", materials } as const] : []),
      { mend: "other-finish", underFamily: top.family },
    ],
  };
};

/** A ground, a stain or a matt paint is not what hands should wear on. */
const wantsTopCoat: readonly Family[] = [
  "shellac-blocker",
  "water-borne-blocker",
  "oil-stain",
  "chalk-paint",
  "milk-paint",
];
const topFinding = ({ layers }: Schedule): Found | undefined => {
  const top = layers.at(-1);
  if (!top || top.isLaid || !wantsTopCoat.includes(top.family)) return undefined;
  return {
    kind: "no-top-coat",
    level: "remark",
    coatIds: [top.coatId],
    family: top.family,
    mends: [{ mend: "top-coat" }],
  };
};

/** Old sawn veneer is 0.8 to 3 mm thick, new 0.5 to 0.6: coarse grit is through it in seconds. */
const veneerFinding = ({ surface, isScuffPlanned }: Schedule, scuffs: boolean): Found | undefined => {
  if (surface.substrate !== "veneer" || !(isScuffPlanned || scuffs)) return undefined;
  const { veneerMicrometres } = surface;
  return {
    kind: "veneer",
    level: "remark",
    coatIds: [],
    ...(veneerMicrometres !== undefined && { veneerMicrometres }),
    mends: [{ mend: "sand-by-hand", coarsestGrit: 150 }],
  };
};

const isWaxed = (layers: readonly Layer[]) => layers.at(-1)?.family === "wax";

/** What the other surfaces of the piece have to do with the coats of this one. */
const besideFindings = ({ layers, beside }: Schedule): Found[] => {
  const toCome = layers.filter(({ isLaid }) => !isLaid);
  if (toCome.length === 0) return [];
  const coatIds = toCome.map(({ coatId }) => coatId);
  const products = new Set(toCome.map(({ productId }) => productId));
  const open = beside.filter(
    (other) => !other.isMasked && !other.layers.some((layer) => !layer.isLaid && products.has(layer.productId)),
  );
  const waxed = isWaxed(layers) ? [] : beside.filter((other) => isWaxed(other.layers));
  const found: Found[] = [];
  const idsOf = (surfaces: typeof beside) => surfaces.map(({ surfaceId }) => surfaceId);
  if (open.length > 0)
    found.push({
      kind: "mask-beside",
      level: "remark",
      coatIds,
      surfaceIds: idsOf(open),
      mends: [{ mend: "add-mask-task", surfaceIds: idsOf(open) }],
    });
  if (waxed.length > 0)
    found.push({ kind: "wax-beside", level: "remark", coatIds, surfaceIds: idsOf(waxed), mends: [] });
  return found;
};

/**
 * Everything that is wrong or missing in the finish schedule of one surface: what goes over what and on which condition,
 * what may bleed, steps that are missing, films that are too thick, and what the other surfaces of the piece have to do
 * with it. Coats that lie already are judged only as what the next ones go on.
 *
 * @returns what stops first, then remarks, each from the wood up
 * @source common practice; the pairs are those of `tables/over-under.ts`
 */
export const checkSchedule = (schedule: Schedule): Finding[] => {
  const { layers, surface } = schedule;
  const steps = layers.slice(1).map((layer, index): Step => ({ below: layers[index] as Layer, layer }));
  const toCome = steps.filter(({ layer }) => !layer.isLaid);
  const scuff = scuffFinding(steps, schedule.isScuffPlanned);
  const found = [
    bleedFinding(schedule),
    ...toCome.map(pairFinding),
    groundFinding(schedule),
    scuff,
    veneerFinding(schedule, scuff !== undefined),
    thickFilm(schedule),
    ...thickCoats(schedule),
    ...thinnedCoats(schedule),
    faceFinding(schedule),
    topFinding(schedule),
    ...besideFindings(schedule),
  ].filter((finding) => finding !== undefined);
  return found
    .map((finding): Finding => ({ ...finding, surfaceId: surface.id }))
    .sort((one, other) => Number(other.level === "stops") - Number(one.level === "stops"));
};
