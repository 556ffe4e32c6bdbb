import { Film, type FilmProps } from "./film";

/** A coat under the one that is drawn large, with a clock of its own. */
export type CoatFilm = { name: string; film: FilmProps; safe: string; likely?: string };

export type FilmRowProps = { surface: string; area?: string; film: FilmProps; coats?: CoatFilm[] };

/** One surface of an opened piece: its name and area, the film with every post labelled, and coats that wait beside it. */
export function FilmRow({ surface, area, film, coats = [] }: FilmRowProps) {
  return (
    <div className="film-row">
      <span>
        {surface}
        {area !== undefined && <small> {area}</small>}
      </span>
      <Film {...film} size="sheet" />
      {coats.map((coat) => (
        <div key={coat.name} className="film-coat">
          <small>{coat.name}</small>
          <small>
            <b>{coat.safe}</b> safe{coat.likely !== undefined && `; likely ${coat.likely}`}
          </small>
          <Film {...coat.film} />
        </div>
      ))}
    </div>
  );
}
