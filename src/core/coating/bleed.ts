/** What comes up through a pale coat, and what keeps it down. */

import type { Family } from "../shop/entities/products";
import { woodRisk } from "../tables/bleeding-woods";
import { hourMs } from "../units";
import type { BleedCause, Found, Layer, Mend, Patch, Schedule } from "./schedule-findings";

/** They carry water, which dissolves the stain; a pale one shows it. */
const waterBorne: readonly Family[] = ["water-borne-paint", "chalk-paint", "milk-paint"];
/** Alcohol does not dissolve tannin, and shellac holds it: the best barrier. Common practice. */
const barrierFamilies: readonly Family[] = ["shellac-blocker", "shellac"];

/** A patch is watched for so long: bleed shows within a day if it shows soon at all. Common practice. */
const patchHours = 24;

const paleWords = ["white", "pale", "light", "cream", "ivory", "linen", "chalk", "bone", "grey", "gray", "pastel"];
const isPaleColour = (colour: string | undefined) =>
  colour !== undefined && paleWords.some((word) => colour.toLowerCase().includes(word));

/** The lowest coat through which a stain would be seen. */
const paleCoat = ({ surface, layers }: Schedule): Layer | undefined =>
  layers.find(
    ({ family, colour, isLaid }) =>
      !isLaid && waterBorne.includes(family) && (surface.isPaleWanted || isPaleColour(colour)),
  );

/** A person's word about the surface comes before what its wood is known for. */
const riskOf = ({ surface, wood }: Schedule): BleedCause | undefined => {
  if (surface.bleedRisk === "yes") return "said";
  if (surface.bleedRisk === "no") return undefined;
  return woodRisk(wood) ?? (surface.substrate === "old-finish" ? "old-finish" : undefined);
};

const isStanding = ({ test }: Patch) => test.kind === "bleed-patch" && test.takenBackAt === undefined;

/** A patch says which product it was of, and over which barrier; one that only names the surface speaks of all. */
const isOf = ({ test }: Patch, pale: Layer) =>
  test.subject.of === "surface" || (test.subject.of === "patch" && test.subject.productId === pale.productId);
const barriersUnder = ({ test: { subject } }: Patch) =>
  subject.of === "patch" && subject.barrierProductId !== undefined ? 1 : 0;

/** A pass counts once the patch has been watched for a day, where it is known when it was laid. */
const isLongEnough = (pass: Patch, patches: readonly Patch[]) => {
  const laid = patches.filter(({ test }) => test.result === "pending" && test.at <= pass.test.at);
  const laidAt = Math.max(...laid.map(({ test }) => test.at));
  return laid.length === 0 || pass.test.at - laidAt >= patchHours * hourMs;
};

/**
 * Whether something may bleed through the pale coats of a schedule: a wood, a red stain or an old finish that is known for
 * it, or a patch that showed it, under a pale water-borne coat with nothing between that holds it. A shellac-type barrier
 * answers it, or a patch of that product that stayed clean for a day; a failed patch leaves only the barrier, and one more
 * coat of it than the patch had.
 *
 * @source common practice; a water-borne blocker is weak and slow and does not count as a barrier here
 */
export const bleedFinding = (schedule: Schedule): Found | undefined => {
  const pale = paleCoat(schedule);
  if (!pale) return undefined;
  const { layers, surface } = schedule;
  const below = layers.slice(0, layers.indexOf(pale));
  const barriers = below.filter(({ family }) => barrierFamilies.includes(family)).length;
  const patches = schedule.patches.filter((patch) => isStanding(patch) && isOf(patch, pale));
  const fails = patches.filter(({ test }) => test.result === "fail");
  const barriersNeeded = 1 + Math.max(0, ...fails.map(barriersUnder));
  const failed = fails.length > 0;
  const cause: BleedCause | undefined = failed ? "patch-failed" : riskOf(schedule);
  if (barriers >= barriersNeeded) return undefined;
  const barrier: Mend = {
    mend: "insert-barrier",
    families: [...barrierFamilies],
    belowCoatId: pale.coatId,
    coats: barriersNeeded - barriers,
  };
  const patch: Mend = { mend: "try-patch", productId: pale.productId, hours: patchHours };
  const coatIds = [pale.coatId];
  // a patch over a barrier says nothing about wood without one
  const isPassed = patches.some(
    (tried) =>
      tried.test.result === "pass" && tried.mayOpen && barriersUnder(tried) <= barriers && isLongEnough(tried, patches),
  );
  if (!failed && isPassed) return undefined;
  if (cause === undefined) {
    const isOpen = surface.bleedRisk === "unknown" && schedule.wood === undefined && surface.substrate !== "metal";
    return isOpen ? { kind: "bleed-not-known", level: "remark", coatIds, mends: [patch, barrier] } : undefined;
  }
  const pendingAt = Math.max(...patches.filter(({ test }) => test.result === "pending").map(({ test }) => test.at));
  return {
    kind: "bleed",
    level: "stops",
    coatIds,
    cause,
    hasWeakBlocker: below.some(({ family }) => family === "water-borne-blocker"),
    barriersNeeded,
    ...(!failed && Number.isFinite(pendingAt) && { patchDueAt: pendingAt + patchHours * hourMs }),
    mends: failed ? [barrier] : [barrier, patch],
  };
};
