import { gate } from "~/core/cure/gate";
import type { Picture } from "~/core/cure/picture";
import type { pieceKinds } from "~/core/shop/entities/pieces";
import type { InstantMs } from "~/core/units";
import { hasFilm } from "../floor/film-state";

type Kind = (typeof pieceKinds)[number];

/** What stays out, open or apart until faces may touch. */
const leaveByKind: Partial<Record<Kind, string>> = {
  dresser: "Leave the drawers out.",
  desk: "Leave the drawers out.",
  nightstand: "Leave the drawers out.",
  chest: "Leave the lid open.",
  wardrobe: "Leave the doors open.",
  bookcase: "Leave the doors open.",
  sideboard: "Leave the doors open.",
  table: "Keep the leaf apart.",
};

/** The act as a plain order for whoever stands in front of it; only for a piece that may be gripped. */
export function carryOrder(picture: Picture, at: InstantMs): string {
  const { piece, pairs } = picture;
  const carry = piece.kind === "chair" && piece.partCount > 1 ? "Carry them." : "Carry it.";
  if (!hasFilm(picture, at)) return `${carry} No film lies on ${carry === "Carry it." ? "it" : "them"}.`;
  if (gate(picture, { action: "use", how: "full" }, at).state === "open")
    return `${carry} The film is as hard as it gets.`;
  if (gate(picture, { action: "press-together" }, at).state === "open") return `${carry} Faces may touch.`;
  if (pairs.length === 0) return `${carry} Nothing on it, nothing against it.`;
  if (pairs.every((pair) => !pair.isApart)) return `${carry} Leave it closed as it is.`;
  return `${carry} ${leaveByKind[piece.kind] ?? "Keep its faces apart."}`;
}
