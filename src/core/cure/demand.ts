import type { Wrap } from "../shop/entities/pieces";
import type { ContactPair } from "../shop/tables";
import type { Demand } from "./milestone";
import type { Picture } from "./picture";

export type GateAction =
  | { action: "touch"; surfaceId?: string }
  | { action: "sand"; surfaceId: string }
  /** `roomId` is where the coat goes on; unless said, where the piece stands. */
  | { action: "recoat"; surfaceId: string; sheetId: string; scuffedBefore?: boolean; roomId?: string }
  | { action: "move"; carried: "bearers" | "hands" }
  | { action: "press-together"; pairId?: string }
  | { action: "stack"; material?: "felt" | "paper" | "foam" }
  | { action: "wrap"; wrap: Wrap; isStrapped: boolean }
  | { action: "hand-over"; wrap: Wrap; isStrapped: boolean }
  | { action: "use"; how: "light" | "full" };

/** One face and what must be true of its film. */
export type FaceDemand = { surfaceId: string; demand: Demand; pairId?: string };

const everySurface = (picture: Picture, demand: Demand): FaceDemand[] =>
  picture.surfaces
    .filter((surface) => surface.pieceId === picture.piece.id)
    .map((surface) => ({ surfaceId: surface.id, demand }));

/** Felt and foam keep two handled faces apart; paper lies between them like in a stack; nothing is face against face. */
const pairDemand = (pair: ContactPair): Demand => {
  if (pair.spacer === "none") return { milestone: "press-together" };
  return pair.spacer === "paper" ? { milestone: "stack", material: "paper" } : { milestone: "handle" };
};

const facesOfPairs = (pairs: readonly ContactPair[]): FaceDemand[] =>
  pairs.flatMap((pair) =>
    [pair.surfaceA, pair.surfaceB].map((surfaceId) => ({ surfaceId, demand: pairDemand(pair), pairId: pair.id })),
  );

const wrapDemand = (wrap: Wrap, isStrapped: boolean): Demand => {
  const isPaper = wrap === "loose-paper" || wrap === "snug-paper";
  if (wrap === "loose-paper" || wrap === "loose-blanket") {
    if (!isStrapped) return { milestone: "handle", wrap };
    // straps press what was loose
    return { milestone: "snug-wrap", wrap: isPaper ? "snug-paper" : "snug-blanket" };
  }
  if (wrap === "snug-paper" || wrap === "snug-blanket") return { milestone: "snug-wrap", wrap };
  return { milestone: "plastic-wrap", wrap };
};

/** What is assembled leaves assembled: doors hung, drawers in. A leaf or a stack travels apart unless it lies together. */
const pairsThatTravelPressed = (picture: Picture) =>
  picture.pairs.filter((pair) => pair.sort === "assembled" || !pair.isApart);

/**
 * The faces on which an action rests and what each must have reached. Which faces a hand grips or a wrap touches is not
 * recorded, so it is all of them.
 */
export const demandsOf = (
  picture: Picture,
  asked: Exclude<GateAction, { action: "recoat" } | { action: "sand" }>,
): FaceDemand[] => {
  switch (asked.action) {
    case "touch": {
      const demand: Demand = { milestone: "set-to-touch" };
      return asked.surfaceId === undefined ? everySurface(picture, demand) : [{ surfaceId: asked.surfaceId, demand }];
    }
    case "move":
      return everySurface(picture, { milestone: asked.carried === "bearers" ? "tack-free" : "handle" });
    case "press-together": {
      const pairs = picture.pairs.filter((pair) => asked.pairId === undefined || pair.id === asked.pairId);
      return pairs.length > 0 ? facesOfPairs(pairs) : everySurface(picture, { milestone: "press-together" });
    }
    case "stack":
      return everySurface(
        picture,
        asked.material ? { milestone: "stack", material: asked.material } : { milestone: "press-together" },
      );
    case "wrap":
      return everySurface(picture, wrapDemand(asked.wrap, asked.isStrapped));
    case "hand-over":
      return [
        ...everySurface(picture, { milestone: "handle" }),
        ...everySurface(picture, wrapDemand(asked.wrap, asked.isStrapped)),
        ...facesOfPairs(pairsThatTravelPressed(picture)),
      ];
    case "use":
      return everySurface(picture, { milestone: asked.how === "light" ? "light-use" : "full-cure" });
  }
};
