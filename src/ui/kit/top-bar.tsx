"use client";
import type { ReactNode } from "react";
import { Link } from "react-aria-components/Link";
import { MemberMark, type MemberMarkProps } from "./member-mark";
import type { Place } from "./places";
import { Wordmark } from "./wordmark";

export type TopBarProps = {
  /** The screen's name: the page's first heading, seen on a phone and read aloud everywhere. */
  title: string;
  shop?: string;
  places: Place[];
  /** "14:40". */
  clock: string;
  /** "Wed 28 Oct". */
  day: string;
  /** The time of the data on screen, when it is older than fifteen minutes. */
  asOf?: string;
  /** Who is at this device, leading to their page. */
  member?: MemberMarkProps & { href: string };
  /** Anything else at the right end, on a laptop. */
  children?: ReactNode;
};

/** On a laptop: the wordmark, the places as words, the clock and who you are. On a phone: the screen's name instead of places. */
export function TopBar({ title, shop, places, clock, day, asOf, member, children }: TopBarProps) {
  return (
    <header className="top-bar">
      <div className="top-brand">
        <Wordmark />
      </div>
      <h1>{title}</h1>
      <nav aria-label="Places">
        {places.map(({ href, words, isCurrent }) => (
          <Link key={href} href={href} aria-current={isCurrent ? "page" : undefined}>
            {words}
          </Link>
        ))}
      </nav>
      <p className="top-shop">
        {shop}
        <span>{day}</span>
      </p>
      {children !== undefined && <div className="top-extra">{children}</div>}
      <p className="clock">
        {clock}
        <small data-as-of={asOf}>{asOf === undefined ? day : `as of ${asOf}`}</small>
      </p>
      {member && (
        <Link href={member.href} className="top-member" aria-label={`You are ${member.name ?? member.letter}`}>
          <MemberMark {...member} />
        </Link>
      )}
    </header>
  );
}
