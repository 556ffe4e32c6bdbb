/** What may bleed through the coat that is about to go on: asked again at the can, for plans change after the check. */
import { bleedFinding } from "../coating/bleed";
import { scheduleOf } from "../coating/schedule-picture";
import type { Coat } from "../shop/tables";
import type { InstantMs } from "../units";
import type { FacePart } from "./gate-answer";
import { filmOn, type Picture } from "./picture";
import type { RecoatAction } from "./recoat";

/** The surface with what lies on it, and the coat in question as the next: one that is planned, or one that nobody planned. */
const withNext = (picture: Picture, { surfaceId, sheetId }: RecoatAction, at: InstantMs): Picture => {
  const laid = filmOn(picture, surfaceId, at);
  const planned = picture.coats
    .filter((coat) => coat.surfaceId === surfaceId && coat.sheetId === sheetId && coat.state === "planned")
    .sort((one, other) => one.position - other.position)[0];
  const next: Coat = {
    id: planned?.id ?? "unplanned",
    pieceId: picture.piece.id,
    surfaceId,
    position: 1 + Math.max(0, ...laid.map(({ position }) => position)),
    sheetId,
    state: "planned",
  };
  return {
    ...picture,
    coats: [...laid, next],
    tests: picture.tests.filter((test) => test.at <= at && !(test.takenBackAt !== undefined && test.takenBackAt <= at)),
    confirmations: picture.confirmations.filter((given) => given.at <= at),
  };
};

/**
 * A pale water-borne coat over what may bleed shuts the gate until a barrier lies below or a patch has stayed clean: no
 * waiting helps, and more colour does not either. Source: common practice, see `coating/bleed.ts`.
 */
export const bleedParts = (picture: Picture, asked: RecoatAction, at: InstantMs): FacePart[] => {
  const surface = picture.surfaces.find(({ id }) => id === asked.surfaceId);
  if (!surface) return [];
  const finding = bleedFinding(scheduleOf(withNext(picture, asked, at), surface, []));
  if (finding?.level !== "stops") return [];
  return [
    {
      state: "shut",
      heldBy: { milestone: "recoat-opens", surfaceId: surface.id },
      evidence: "sheet",
      needs: [{ kind: "bleed", finding: { ...finding, surfaceId: surface.id } }],
      sheetId: asked.sheetId,
    },
  ];
};
