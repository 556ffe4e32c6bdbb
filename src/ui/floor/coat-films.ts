import type { GateAction } from "~/core/cure/demand";
import type { FilmShape } from "~/core/cure/film-shape";
import { filmOn, type Picture } from "~/core/cure/picture";
import type { InstantMs } from "~/core/units";
import type { CoatFilm } from "~/ui/kit/film-row";
import { filmView } from "./film-view";
import { filmMoment } from "./gate-words";

/** Closer than this share of the drawn film, two flagged posts would be one. */
const closestShare = 0.03;

/**
 * The coats of a surface that still wait for hours of their own beside the one whose film is drawn: each by its own clock,
 * as if it lay alone.
 *
 * @param drawn the surface's own film: a coat that comes as late as it is not told again
 */
export function coatFilms(
  picture: Picture,
  surfaceId: string,
  drawn: FilmShape,
  asked: GateAction,
  now: InstantMs,
  zone: string,
): CoatFilm[] {
  if (asked.action === "recoat") return [];
  return filmOn(picture, surfaceId, now).flatMap((coat): CoatFilm[] => {
    if (coat.id === drawn.coatId) return [];
    const name = `coat ${coat.position}`;
    const alone = { ...picture, coats: [coat], joints: [] };
    const view = filmView(alone, surfaceId, asked, now, zone, name, "");
    const { safeAt, likelyAt } = view?.shape ?? {};
    if (!view || safeAt === undefined || safeAt <= now) return [];
    const apartMs = Math.abs((drawn.safeAt ?? now) - safeAt);
    if (apartMs < closestShare * (safeAt - drawn.laidAt)) return [];
    const safe = filmMoment(safeAt, now, zone);
    const likely = likelyAt === undefined || likelyAt <= now ? undefined : filmMoment(likelyAt, now, zone);
    return [{ name, film: view.film, safe, ...(likely !== safe && { likely }) }];
  });
}
