import type { promiseSorts, Wrap } from "../shop/entities/pieces";
import { type InstantMs, minuteMs } from "../units";
import { demandsOf, type GateAction } from "./demand";
import { gate, recoatFilmGate } from "./gate";
import { CombinedGate, type Gate, type GateNeed, type HeldBy } from "./gate-answer";
import { jointParts } from "./joint-gates";
import type { Picture } from "./picture";
import { type PlacedCoat, plannedFaceParts, planOf, type Unplaced } from "./promise-plan";

const fiveMinutesMs = 5 * minuteMs;

/** How a film's instant is shown: up to the next five minutes, for nobody should come early. Gates compare exactly. */
export const roundUpToFiveMin = (at: InstantMs): InstantMs => Math.ceil(at / fiveMinutesMs) * fiveMinutesMs;

export type AskedGate = { asked: GateAction; gate: Gate };

const nextCoats = (picture: Picture): GateAction[] =>
  picture.surfaces
    .filter((surface) => surface.pieceId === picture.piece.id)
    .flatMap((surface) => {
      const planned = picture.coats
        .filter((coat) => coat.surfaceId === surface.id && coat.state === "planned")
        .sort((one, other) => one.position - other.position)[0];
      return planned ? [{ action: "recoat" as const, surfaceId: surface.id, sheetId: planned.sheetId }] : [];
    });

/** What a shop waits for, weakest first. */
const waitedFor = (picture: Picture): GateAction[] => [
  { action: "move", carried: "bearers" },
  ...nextCoats(picture),
  { action: "move", carried: "hands" },
  ...picture.pairs.map((pair): GateAction => ({ action: "press-together", pairId: pair.id })),
  { action: "use", how: "full" },
];

/**
 * What opens next for a piece: of everything still shut, what opens first; if nothing has a date, the weakest that is
 * shut. Nothing when all is open.
 */
export const nextGate = (picture: Picture, at: InstantMs): AskedGate | undefined => {
  const shut = waitedFor(picture)
    .map((asked) => ({
      asked,
      gate: asked.action === "recoat" ? recoatFilmGate(picture, asked, at) : gate(picture, asked, at),
    }))
    .filter((found) => found.gate.state !== "open");
  const dated = shut.filter((found) => found.gate.safeAt !== undefined);
  const opensAt = (found: AskedGate) => found.gate.safeAt as InstantMs;
  return dated.length === 0
    ? shut[0]
    : dated.reduce((first, found) => (opensAt(found) < opensAt(first) ? found : first));
};

/**
 * Acts that are open because somebody gave their word, and for no other reason: the film itself still says no.
 */
export const openByWord = (picture: Picture, at: InstantMs): AskedGate[] => {
  if (picture.words.length === 0) return [];
  const asked: GateAction[] = [
    { action: "touch" },
    ...waitedFor(picture),
    { action: "stack" },
    { action: "wrap", wrap: "snug-blanket", isStrapped: true },
    { action: "hand-over", wrap: "snug-blanket", isStrapped: true },
  ];
  return asked
    .map((one) => ({
      asked: one,
      gate: one.action === "recoat" ? recoatFilmGate(picture, one, at) : gate(picture, one, at),
    }))
    .filter((found) => found.gate.state === "open" && found.gate.evidence === "word");
};

/** Whether every surface may be gripped: what the stages after *cure* ask of a piece. */
export const handleOpenEverywhere = (picture: Picture, at: InstantMs): Gate =>
  gate(picture, { action: "move", carried: "hands" }, at);

export type HonestDate =
  | { kind: "at"; safeAt: InstantMs; likelyAt?: InstantMs; heldBy?: HeldBy }
  /** Only if the planned coats go on, each not later than it is placed here. */
  | {
      kind: "if";
      plannedCoatIds: string[];
      coats: PlacedCoat[];
      safeAt: InstantMs;
      likelyAt?: InstantMs;
      heldBy?: HeldBy;
    }
  | { kind: "never"; needs: GateNeed[]; unplaced?: Unplaced; safeAt?: undefined; heldBy?: HeldBy };

export type Travel = { wrap: Wrap; isStrapped: boolean };

/**
 * The earliest date that can honestly be promised, by the slow clock. Photos need a piece that may be carried; everything
 * else, one that may be handed over, with every door and drawer in its place. Coats that are still planned are placed
 * where the film below, the forecast of the room and the day allow, and the date counts from the last of them.
 *
 * @param travel how it will be wrapped; a loose blanket unless said
 */
export const earliestHonest = (
  picture: Picture,
  sort: (typeof promiseSorts)[number],
  at: InstantMs,
  travel: Travel = { wrap: "loose-blanket", isStrapped: false },
): HonestDate => {
  const asked: Parameters<typeof demandsOf>[1] =
    sort === "photos" ? { action: "move", carried: "hands" } : { action: "hand-over", ...travel };
  const plan = planOf(picture, at);
  const { unplaced } = plan;
  if (unplaced) {
    const { needs, heldBy } = unplaced;
    return { kind: "never", needs, unplaced, ...(heldBy && { heldBy }) };
  }
  const faces = demandsOf(picture, asked).flatMap((face) => plannedFaceParts(picture, plan, face, at));
  const parts = [...faces, ...jointParts(picture, asked, at)];
  const { state, safeAt, likelyAt, needs, heldBy } = new CombinedGate(asked.action, parts, undefined);
  const opensAt = state === "open" ? at : safeAt;
  if (opensAt === undefined) return { kind: "never", needs, ...(heldBy && { heldBy }) };
  const date = { safeAt: opensAt, ...(likelyAt !== undefined && { likelyAt }), ...(heldBy && { heldBy }) };
  if (plan.placed.length === 0) return { kind: "at", ...date };
  // a plan may be all but done when nothing is asked of its surfaces: it still has to be done first
  const donePlanAt = Math.max(...plan.laid.map((coat) => coat.applied.endedAt));
  return {
    kind: "if",
    plannedCoatIds: plan.placed.map(({ coatId }) => coatId),
    coats: plan.placed,
    ...date,
    safeAt: Math.max(opensAt, donePlanAt),
  };
};
