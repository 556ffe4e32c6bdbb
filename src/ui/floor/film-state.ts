import type { GateAction } from "~/core/cure/demand";
import { gate } from "~/core/cure/gate";
import { filmOn, type Picture } from "~/core/cure/picture";
import type { InstantMs } from "~/core/units";
import type { GlyphState } from "~/ui/kit/glyph";

export type FilmState = { glyph: GlyphState; word: string };

/** From hard to wet: the first that is open says how far the softest film of the piece has come. */
const ladder: { asked: GateAction; state: FilmState }[] = [
  { asked: { action: "use", how: "full" }, state: { glyph: "cured", word: "full cure" } },
  { asked: { action: "press-together" }, state: { glyph: "press", word: "press together" } },
  { asked: { action: "move", carried: "hands" }, state: { glyph: "handle", word: "handle" } },
  { asked: { action: "move", carried: "bearers" }, state: { glyph: "tack-free", word: "tack-free" } },
];

export const hasFilm = (picture: Picture, at: InstantMs): boolean =>
  picture.surfaces.some((surface) => filmOn(picture, surface.id, at).length > 0);

/** How far the softest film of a piece has come; nothing where no film lies. */
export function filmState(picture: Picture, at: InstantMs): FilmState | undefined {
  if (!hasFilm(picture, at)) return undefined;
  // a word opens a gate; the film is no harder for it
  const film: Picture = { ...picture, words: [] };
  return ladder.find(({ asked }) => gate(film, asked, at).state === "open")?.state ?? { glyph: "wet", word: "wet" };
}

/** As `filmState`, for one surface. */
export const surfaceState = (picture: Picture, surfaceId: string, at: InstantMs): FilmState | undefined =>
  filmState(
    {
      ...picture,
      surfaces: picture.surfaces.filter((surface) => surface.id === surfaceId),
      pairs: picture.pairs.filter((pair) => pair.surfaceA === surfaceId || pair.surfaceB === surfaceId),
    },
    at,
  );
