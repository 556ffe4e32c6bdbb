/** What holds an honest date, where the planned coats fall, and what would bring it forward, in words. */
import type { HonestDate } from "~/core/cure/next-gate";
import type { Picture } from "~/core/cure/picture";
import type { BroughtForward } from "~/core/cure/promise-forward";
import type { InstantMs } from "~/core/units";
import { filmMoment, productName } from "~/ui/floor/gate-words";
import { duration } from "~/ui/format";
import { listed, milestoneWords, testWords } from "~/ui/trade-words";

const surfaceName = (picture: Picture, id: string) =>
  picture.surfaces.find((surface) => surface.id === id)?.name ?? "a surface";
const roomName = (picture: Picture, id: string) => picture.roomById.get(id)?.name.toLowerCase() ?? "another room";
const coatName = (picture: Picture, coatId: string) => {
  const coat = picture.coats.find((found) => found.id === coatId);
  return coat ? `${productName(picture, coat.sheetId)} on ${surfaceName(picture, coat.surfaceId)}` : "a coat";
};

/** "Held by: top, W1, handle" */
export function heldWords(honest: HonestDate, picture: Picture): string | undefined {
  const { heldBy } = honest;
  if (!heldBy) return undefined;
  const faces = [heldBy.surfaceId, heldBy.surfaceB].flatMap((id) => (id ? [surfaceName(picture, id)] : []));
  const coat = picture.coats.find(({ id }) => id === heldBy.coatId);
  const film = coat && productName(picture, coat.sheetId);
  return `Held by: ${[listed(faces), film, milestoneWords[heldBy.milestone]].filter(Boolean).join(", ")}.`;
}

/** One line for each coat that has still to go on, with the earliest that it can. */
export const placedWords = (honest: HonestDate, picture: Picture, now: InstantMs, zone: string): string[] =>
  honest.kind === "if"
    ? honest.coats.map(
        ({ coatId, roomId, startsAt }) =>
          `${coatName(picture, coatId)}: ${startsAt <= now ? "now" : `from ${filmMoment(startsAt, now, zone)}`}, in the ${roomName(picture, roomId)}`,
      )
    : [];

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

const whatWords = (found: BroughtForward, picture: Picture): string => {
  switch (found.kind) {
    case "warmer-room":
      return `Carry it to the ${roomName(picture, found.roomId)}`;
    case "barrier":
      return `Lay ${productName(picture, found.sheetId)} as a barrier first`;
    case "hand-test":
      return `${testWords[found.testKind]} passed on ${listed(found.surfaceIds.map((id) => surfaceName(picture, id)))}`;
  }
};

/** "Carry it to the loft: Fri 05:15, 6 h 30 sooner" */
export const forwardWords = (found: BroughtForward, picture: Picture, now: InstantMs, zone: string): string => {
  const date = found.safeAt <= now ? "now" : filmMoment(found.safeAt, now, zone);
  const gained = found.gainedMin === undefined ? "" : `, ${duration(found.gainedMin * 60)} sooner`;
  return `${capital(whatWords(found, picture))}: ${date}${gained}`;
};
