"use client";
import { Link } from "react-aria-components/Link";
import type { Place } from "./places";

/** The foot of the phone: four or five words. A laptop has them in the `TopBar`. */
export function Dock({ places }: { places: Place[] }) {
  return (
    <nav className="dock" aria-label="Places">
      {places.map(({ href, words, isCurrent }) => (
        <Link key={href} href={href} aria-current={isCurrent ? "page" : undefined}>
          {words}
        </Link>
      ))}
    </nav>
  );
}
