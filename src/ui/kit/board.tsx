import type { ReactNode } from "react";
import { Tag } from "./tag";

export type BoardProps = {
  /** With a tag the board is about a piece, and the tag hangs over its edge. */
  tag?: string;
  href?: string;
  title: string;
  /** At the right end of the head: a mark, a key, tape. */
  aside?: ReactNode;
  level?: 2 | 3;
  children?: ReactNode;
};

/** A planed board: every reading surface that is not a strip. */
export function Board({ tag, href, title, aside, level = 2, children }: BoardProps) {
  const Heading = level === 2 ? "h2" : "h3";
  return (
    <article className="board">
      <header className="board-head">
        {tag !== undefined && <Tag number={tag} href={href} />}
        <Heading>{title}</Heading>
        {aside !== undefined && <div className="board-aside">{aside}</div>}
      </header>
      {children !== undefined && <div className="board-body">{children}</div>}
    </article>
  );
}

export type OrderProps = { children: ReactNode };

/** The act first, as a plain order: "Carry it. Leave the drawers out." No screen has bigger sentences. */
export function Order({ children }: OrderProps) {
  return <p className="order">{children}</p>;
}

export type WhenLineProps = {
  /** `StateWord`, or words. */
  act: ReactNode;
  /** "17:05", "Fri 05:15", or the verb of a barred piece. */
  time: string;
  isBarred?: boolean;
};

/** One act and its time on one line, for a piece that is not open now. */
export function WhenLine({ act, time, isBarred = false }: WhenLineProps) {
  return (
    <p className="when-line" data-barred={isBarred || undefined}>
      <span>{act} </span>
      <b>{time}</b>
    </p>
  );
}
