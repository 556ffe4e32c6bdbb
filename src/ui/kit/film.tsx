import type { CSSProperties } from "react";
import { labelRows, percentAlong, safePostPercent } from "./film-scale";

/** A stretch of the film's time, as fractions: 0 is when the coat was laid, 1 is the safe time. */
export type FilmSpan = { from: number; to: number };

export type FilmPost = {
  at: number;
  /** Reached; opened by a hand test (a pencil tick); or an old time that somebody struck out. */
  kind: "passed" | "tested" | "struck";
  label?: string;
  time?: string;
};

/** What the film says aloud, in this order; nothing of it is only to be seen. */
export type FilmWords = {
  surface: string;
  state: string;
  earned?: string;
  likely?: string;
  safe?: string;
  holds?: string;
};

export type FilmProps = {
  words: FilmWords;
  /** 18 px on strips, 32 px with labels on sheets. */
  size?: "strip" | "sheet";
  ripple: "wet" | "tack" | "none";
  coatsBelow?: number;
  now: number;
  /** The flagged post, always at 1. With neither it nor a tested post the film runs from edge to edge: fully cured. */
  safe?: { label?: string; time?: string };
  likely?: { at: number; time?: string };
  posts?: FilmPost[];
  lost?: FilmSpan[];
  assumed?: FilmSpan[];
  recoat?: FilmSpan & { isShut: boolean };
  /** Waiting will not open this: crossed from now to the edge, without a post or a time. */
  isBarred?: boolean;
};

export const filmName = ({ surface, state, earned, likely, safe, holds }: FilmWords) =>
  [
    `${surface}: ${state}`,
    earned,
    likely !== undefined && `likely ${likely}`,
    safe !== undefined && `safe ${safe}`,
    holds !== undefined && `holds ${holds}`,
  ]
    .filter((words) => typeof words === "string")
    .join("; ");

type Place = CSSProperties & Record<`--${string}`, string | number>;

/** A piece's coat as one board seen from its edge: solid where hours were earned, rippled where it is still to level. */
export function Film(film: FilmProps) {
  const { words, size = "strip", ripple, coatsBelow = 0, now, likely, posts = [], recoat, isBarred = false } = film;
  const safe = isBarred ? undefined : film.safe;
  const endsAtPost = film.safe !== undefined || isBarred || posts.some(({ kind }) => kind === "tested");
  const end = endsAtPost ? safePostPercent : 100;
  const along = (at: number) => percentAlong(at, end);
  const span = ({ from, to }: FilmSpan): Place => ({ left: `${along(from)}%`, width: `${along(to) - along(from)}%` });
  const likelyBeforeSafe = safe !== undefined && likely !== undefined && likely.at < 1 ? likely : undefined;
  const isLabelled = size === "sheet";
  const rows = labelRows(isLabelled ? posts : [], safe !== undefined);
  const labelRowCount =
    isLabelled && (posts.length > 0 || safe?.time !== undefined) ? Math.max(1, ...rows.map((row) => row + 1)) : 0;
  const place: Place = { "--now": along(now), "--end": end, "--below": coatsBelow, "--label-rows": labelRowCount };

  return (
    <div
      className="film"
      role="img"
      aria-label={filmName(words)}
      data-ripple={ripple}
      data-size={size}
      data-barred={isBarred || undefined}
      data-likely-label={(isLabelled && likelyBeforeSafe?.time !== undefined) || undefined}
      style={place}
    >
      <span className="film-wood" />
      {coatsBelow > 0 && <span className="film-below" />}
      <span className="film-earned" />
      <span className="film-soft" />
      {likelyBeforeSafe && <span className="film-maybe" style={span({ from: likelyBeforeSafe.at, to: 1 })} />}
      {film.lost?.map((gap) => (
        <span key={`lost ${gap.from}`} className="film-gap" style={span(gap)} />
      ))}
      {film.assumed?.map((gap) => (
        <span key={`assumed ${gap.from}`} className="film-gap" data-assumed style={span(gap)} />
      ))}
      {recoat && <span className="film-recoat" data-shut={recoat.isShut || undefined} style={span(recoat)} />}
      {posts.map((post, index) => (
        <Post
          key={`${post.kind} ${post.at}`}
          kind={post.kind}
          leftPercent={along(post.at)}
          row={rows[index] ?? 0}
          words={isLabelled ? [post.label, post.time] : []}
        />
      ))}
      {likelyBeforeSafe && (
        <Post
          kind="likely"
          leftPercent={along(likelyBeforeSafe.at)}
          row={0}
          words={isLabelled && likelyBeforeSafe.time !== undefined ? [`likely ${likelyBeforeSafe.time}`] : []}
        />
      )}
      {safe && <Post kind="safe" leftPercent={end} row={0} words={isLabelled ? [safe.label, safe.time] : []} />}
    </div>
  );
}

type PostProps = {
  kind: FilmPost["kind"] | "likely" | "safe";
  leftPercent: number;
  row: number;
  words: (string | undefined)[];
};

function Post({ kind, leftPercent, row, words }: PostProps) {
  const lines = words.filter((line) => line !== undefined);
  const place: Place = { left: `${leftPercent}%`, "--row": row };
  const edge = leftPercent < 12 ? "start" : leftPercent > 80 ? "end" : undefined;
  return (
    <span className="film-post" data-kind={kind} style={place}>
      {lines.length > 0 && (
        <b data-edge={edge}>
          {lines.map((line) => (
            <span key={line}>{line}</span>
          ))}
        </b>
      )}
    </span>
  );
}
