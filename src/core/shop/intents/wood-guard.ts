import { gate } from "../../cure/gate";
import { familyOf, filmOn, type Picture, sheetOf } from "../../cure/picture";
import type { InstantMs } from "../../units";
import { refusalOfGate } from "../gate-ruling";
import type { Refusal } from "../refusal";

/** What keeps a piece from its finish: wood that is still wet, or filler and clay that would not take a coat yet. */
export const woodRefusal = (picture: Picture, at: InstantMs): Refusal | undefined => {
  for (const surface of picture.surfaces) {
    const top = filmOn(picture, surface.id, at).at(-1);
    const family = top && familyOf(picture, sheetOf(picture, top.sheetId));
    if (family !== undefined && family !== "filler" && family !== "clay") continue;
    // what is bare, filled or modelled is ready for a finish when it may be sanded
    const sanding = gate(picture, { action: "sand", surfaceId: surface.id }, at);
    if (sanding.state !== "open") return refusalOfGate(sanding, picture);
  }
  return undefined;
};
