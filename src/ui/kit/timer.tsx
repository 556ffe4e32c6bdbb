import type { ReactNode } from "react";
import { Tag } from "./tag";

export type TimerProps = {
  /** Whole seconds since it was started; the screen ticks, the figure shows hours and minutes. */
  seconds: number;
  /** "Running", "Still running". */
  title: string;
  tag?: string;
  href?: string;
  what?: string;
  /** "13:00", "Tue 19:30". */
  since?: string;
  /** `Key`s: stop, switch piece. */
  children?: ReactNode;
};

/** Elapsed time as hours and minutes, "0:12". Minutes are cut, not rounded: an hour begun is not an hour worked. */
export const elapsedFigure = (seconds: number) => {
  const minutes = Math.floor(seconds / 60);
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
};

const elapsedWords = (seconds: number) => {
  const minutes = Math.floor(seconds / 60);
  return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
};

/** The running figure of the bench: the largest after an alarm. */
export function Timer({ seconds, title, tag, href, what, since, children }: TimerProps) {
  return (
    <section className="timer" aria-label={title}>
      <div className="timer-head">
        <h2>{title}</h2>
        {tag !== undefined && <Tag number={tag} href={href} />}
        {since !== undefined && <span className="timer-since">since {since}</span>}
      </div>
      <p className="timer-figure">
        <b role="timer" aria-label={elapsedWords(seconds)}>
          {elapsedFigure(seconds)}
        </b>
        {what !== undefined && <span>{what}</span>}
      </p>
      {children}
    </section>
  );
}
