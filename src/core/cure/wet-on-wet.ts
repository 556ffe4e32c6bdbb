/** How thick a film is that went on in several goes: what is laid on a film still wet becomes one with it. */
import type { Sheet } from "../shop/tables";
import type { InstantMs } from "../units";
import { neededTime } from "./needed-time";
import { familyOf, filmOn, type LaidCoat, type Picture, sheetOf } from "./picture";
import { creditMin, filmOf } from "./progress";

type Film = Pick<Sheet, "wetFilmMicrometres">;

/** How many times as thick as its sheet says a coat was laid; 1 where either is not known. */
const timesAsThick = ({ wetFilmMicrometres }: Film, laidMicrometres: number | undefined) =>
  wetFilmMicrometres === undefined || laidMicrometres === undefined ? 1 : laidMicrometres / wetFilmMicrometres;

const slowedBy = (times: number) => Math.max(1, times ** 2);

/**
 * How much longer a film takes that was laid thicker than its sheet says: by the square, since what leaves it must cross
 * it. Never less than 1; 1 where a thickness is not known. Source: diffusion time goes with the square of the distance.
 */
export const thickFactor = (sheet: Film, laidMicrometres: number | undefined) =>
  slowedBy(timesAsThick(sheet, laidMicrometres));

const coatBelow = (picture: Picture, coat: LaidCoat, at: InstantMs): LaidCoat | undefined => {
  const coats = filmOn(picture, coat.surfaceId, at);
  return coats[coats.indexOf(coat) - 1];
};

/**
 * Whether a coat went on before the one below had set to the touch, by the likely clock. What the server found stays so on
 * devices that carry no readings from then.
 */
export const wentOnWet = (picture: Picture, coat: LaidCoat, at: InstantMs): boolean => {
  const below = coatBelow(picture, coat, at);
  if (!below) return false;
  const checkpoint = picture.checkpointByCoatId?.get(coat.id);
  if (checkpoint && checkpoint.at <= at) return checkpoint.wentOnWet === true;
  const sheet = sheetOf(picture, below.sheetId);
  const time = neededTime(sheet, familyOf(picture, sheet), { milestone: "set-to-touch" }, false);
  if (time === "never") return false;
  const neededMin = (time.typicalMin ?? time.min) * filmFactor(picture, below, at);
  return creditMin(filmOf(picture, below, at), "likely", coat.applied.startedAt) < neededMin;
};

/** With all that it is one film with. */
const timesInAll = (picture: Picture, coat: LaidCoat, at: InstantMs): number => {
  const film = filmOf(picture, coat, at);
  if (film.timesAsThick !== undefined) return film.timesAsThick;
  const own = timesAsThick(sheetOf(picture, coat.sheetId), coat.applied.wetFilmMicrometres);
  const below = wentOnWet(picture, coat, at) ? coatBelow(picture, coat, at) : undefined;
  film.timesAsThick = own + (below ? timesInAll(picture, below, at) : 0);
  return film.timesAsThick;
};

/** How much longer a coat takes than its sheet says, for being thick or for lying on one that was still wet; at least 1. */
export const filmFactor = (picture: Picture, coat: LaidCoat, at: InstantMs): number =>
  slowedBy(timesInAll(picture, coat, at));
