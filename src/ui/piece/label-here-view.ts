import type { RoomAir } from "~/core/climate/history";
import { labelHere } from "~/core/cure/label-here";
import { familyOf, type Picture, sheetOf } from "~/core/cure/picture";
import { filmOf, type Hardening, laidInRoom } from "~/core/cure/progress";
import { roomCredit } from "~/core/cure/room-credit";
import type { Family } from "~/core/shop/entities/products";
import { CannotTellHere, type Facts } from "~/core/shop/facts";
import type { Sheet } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { duration } from "~/ui/format";

const asked = [
  { milestone: "recoat-opens", words: "Next coat" },
  { milestone: "handle", words: "Handling" },
] as const;

/** To the half hour from three hours on, below to five minutes: nobody's room keeps a promise finer than that. */
const about = (minutes: number) => {
  const step = minutes >= 180 ? 30 : 5;
  return duration(Math.ceil(minutes / step) * step * 60);
};

const sentences = (film: Hardening, sheet: Sheet, family: Family): string[] =>
  asked.flatMap(({ milestone, words }) => {
    const found = labelHere(film, sheet, family, milestone);
    if (!found) return [];
    const label = duration(found.labelMin * 60);
    if (found.safeMin === undefined) return [`${words}: in this air the label's ${label} never come to an end.`];
    const safe = about(found.safeMin);
    const likely = found.likelyMin === undefined ? undefined : about(found.likelyMin);
    const sureness = likely === undefined || likely === safe ? safe : `${safe}, likely ${likely}`;
    return [`${words}: your room makes this ${label} label about ${sureness}.`];
  });

/** What the label's times became for a coat that lies, in the air since. */
export function labelOfCoat(picture: Picture, coatId: string, now: InstantMs): string[] {
  const coat = picture.coats.find(({ id }) => id === coatId);
  if (!coat?.applied || coat.applied.startedAt > now) return [];
  const sheet = sheetOf(picture, coat.sheetId);
  return sentences(filmOf(picture, { ...coat, applied: coat.applied }, now), sheet, familyOf(picture, sheet));
}

/** What they would become for a coat laid now in a room; nothing where this device does not carry its air. */
export function labelOfNextCoat(facts: Facts, sheetId: string, roomId: string, now: InstantMs): string[] {
  const sheet = facts.get("sheet", sheetId);
  const product = sheet && facts.get("product", sheet.productId);
  const air = airHere(facts, roomId, now);
  if (!sheet || !product || !air) return [];
  const film = laidInRoom(roomCredit(air, sheet, likelyCapOf(facts)), now);
  return sentences(film, sheet, product.family);
}

const likelyCapOf = (facts: Facts) => facts.all("shop")[0]?.likelyCap;

function airHere(facts: Facts, roomId: string, now: InstantMs): RoomAir | undefined {
  try {
    return facts.air(roomId, now);
  } catch (error) {
    if (error instanceof CannotTellHere) return undefined;
    throw error;
  }
}
