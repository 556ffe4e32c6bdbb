import type { promiseSorts, Wrap } from "../shop/entities/pieces";
import { type InstantMs, minuteMs } from "../units";
import { demandsOf, type GateAction } from "./demand";
import { facePart } from "./face";
import { gate, recoatFilmGate } from "./gate";
import { combined, type Gate, type GateNeed, type HeldBy } from "./gate-answer";
import type { Picture } from "./picture";

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

/** Whether every surface may be gripped: what the stages after *cure* ask of a piece. */
export const handleOpenEverywhere = (picture: Picture, at: InstantMs): Gate =>
  gate(picture, { action: "move", carried: "hands" }, at);

export type HonestDate =
  | { kind: "at"; safeAt: InstantMs; likelyAt?: InstantMs; heldBy?: HeldBy }
  /** Coats are still planned: not before `safeAt`, which is the date of what lies already, and then only if they go on. */
  | { kind: "if"; plannedCoatIds: string[]; safeAt: InstantMs; likelyAt?: InstantMs; heldBy?: HeldBy }
  | { kind: "never"; needs: GateNeed[]; safeAt?: undefined; heldBy?: HeldBy };

/**
 * The earliest date that can honestly be promised, by the slow clock. Photos need a piece that may be carried; everything
 * else, one that may be handed over, with every door and drawer in its place.
 *
 * @param travel how it will be wrapped; a loose blanket unless said
 */
export const earliestHonest = (
  picture: Picture,
  sort: (typeof promiseSorts)[number],
  at: InstantMs,
  travel: { wrap: Wrap; isStrapped: boolean } = { wrap: "loose-blanket", isStrapped: false },
): HonestDate => {
  const planned = picture.coats.filter((coat) => coat.pieceId === picture.piece.id && coat.state === "planned");
  const asked: Parameters<typeof demandsOf>[1] =
    sort === "photos" ? { action: "move", carried: "hands" } : { action: "hand-over", ...travel };
  const parts = demandsOf(picture, asked).map((face) => facePart(picture, face, at, false));
  const { state, safeAt, likelyAt, needs, heldBy } = combined(asked.action, parts, undefined);
  const opensAt = state === "open" ? at : safeAt;
  if (opensAt === undefined) return { kind: "never", needs, ...(heldBy && { heldBy }) };
  const date = { safeAt: opensAt, ...(likelyAt !== undefined && { likelyAt }), ...(heldBy && { heldBy }) };
  return planned.length > 0
    ? { kind: "if", plannedCoatIds: planned.map((coat) => coat.id), ...date }
    : { kind: "at", ...date };
};
