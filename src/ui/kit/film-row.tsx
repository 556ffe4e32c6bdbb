import { Film, type FilmProps } from "./film";

export type FilmRowProps = { surface: string; area?: string; film: FilmProps };

/** One surface of an opened piece: its name and area, and the film with every post labelled. */
export function FilmRow({ surface, area, film }: FilmRowProps) {
  return (
    <div className="film-row">
      <span>
        {surface}
        {area !== undefined && <small> {area}</small>}
      </span>
      <Film {...film} size="sheet" />
    </div>
  );
}
