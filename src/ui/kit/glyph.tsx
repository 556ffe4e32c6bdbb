import type { ReactNode } from "react";

const outline = { fill: "none", stroke: "currentColor", strokeWidth: "2" } as const;

const Wood = () => <path d="M1 21.5H37" {...outline} strokeWidth="2.5" />;

/**
 * A coat seen from its edge: the shape says the state, so the glyph reads without colour. It is decoration for the ear;
 * a screen always prints the state's word beside it (`StateWord`).
 */
const drawing = {
  wet: (
    <>
      <Wood />
      <path d="M2 19V12C5 5 8 5 11 12S17 19 20 12 26 5 29 12 34 17 36 12V19Z" {...outline} strokeLinejoin="round" />
    </>
  ),
  "tack-free": (
    <>
      <Wood />
      <path
        d="M2 19V13C3.5 10.5 5 10.5 6.5 13S9.5 15 11 13 14 10.5 15.5 13 18.5 15 20 13 23 10.5 24.5 13 27.5 15 29 13 32 10.5 33.5 13L36 13V19Z"
        {...outline}
      />
      <path d="M2 16.5H36V19H2Z" fill="currentColor" />
    </>
  ),
  recoat: (
    <>
      <Wood />
      <path d="M2 12H36V19H2Z" fill="currentColor" />
      <path d="M5 9V3.5H14M33 9V3.5H24M19 1V9M15.5 6 19 9.5 22.5 6" {...outline} />
    </>
  ),
  "recoat-shut": (
    <>
      <Wood />
      <path d="M2 12H36V19H2Z" fill="currentColor" />
      <path d="M5 9V4H33V9M14 1l10 7M24 1l-10 7" {...outline} />
    </>
  ),
  handle: (
    <>
      <Wood />
      <path d="M2 12H36V19H2Z" fill="currentColor" />
      <path d="M2 8V3.5H8M36 8V3.5H30" {...outline} strokeWidth="2.4" />
    </>
  ),
  press: (
    <>
      <path d="M1 1.5H37M1 22.5H37" {...outline} strokeWidth="2.5" />
      <path d="M2 4H36V10.5H2ZM2 13.5H36V20H2Z" fill="currentColor" />
    </>
  ),
  wrap: (
    <>
      <Wood />
      <path d="M8 9H30V19H8Z" fill="currentColor" />
      <path d="M3 20V7L7 4H31L35 7V20" {...outline} strokeLinejoin="round" />
    </>
  ),
  cured: (
    <>
      <Wood />
      <path d="M2 6H36V19H2Z" fill="currentColor" />
      <path d="M2 2H36" {...outline} />
    </>
  ),
  tested: (
    <>
      <Wood />
      <path d="M2 14H36V19H2Z" fill="currentColor" />
      <path d="M12 6l5 5 9-10" {...outline} strokeWidth="2.8" />
    </>
  ),
  overridden: (
    <>
      <Wood />
      <path d="M2 14H36V19H2Z" fill="currentColor" />
      <path d="M4 9 8 3 12 9 16 3 20 9 24 3 28 9 32 3 35 8" {...outline} strokeWidth="1.8" />
    </>
  ),
  assumed: (
    <>
      <Wood />
      <path d="M2.5 12.5H35.5V19H2.5Z" {...outline} strokeDasharray="3.5 2.5" />
      <path d="M12 7V3M19 7V3M26 7V3" {...outline} strokeWidth="2.2" />
    </>
  ),
  lost: (
    <>
      <Wood />
      <path d="M2 8H13V19H2ZM25 8H36V19H25Z" fill="currentColor" />
      <path d="M14 13.5H24" {...outline} strokeDasharray="2.5 2.5" />
    </>
  ),
  barred: (
    <>
      <Wood />
      <path d="M2 8H36V19H2Z" {...outline} />
      <path
        d="M2 19 13 8M8 19 19 8M2 8 13 19M14 19 25 8M8 8 19 19M20 19 31 8M14 8 25 19M26 19 36 9M20 8 31 19M26 8 36 18"
        {...outline}
        strokeWidth="1.4"
      />
    </>
  ),
  glue: (
    <>
      <path d="M2 2H16V22H2ZM22 2H36V22H22Z" {...outline} />
      <path d="M17 1H21V23H17Z" fill="currentColor" />
    </>
  ),
  patch: (
    <>
      <Wood />
      <path d="M13 12.5H25V19H13Z" fill="currentColor" />
      <path d="M9 19V8H29V19" {...outline} strokeDasharray="3.5 2.5" />
    </>
  ),
  corrected: (
    <>
      <path d="M3 7H35V17H3Z" {...outline} />
      <path d="M1 21 37 3" {...outline} strokeWidth="2.6" />
    </>
  ),
  overlap: (
    <>
      <path d="M2 3H24V11H2Z" fill="currentColor" />
      <path d="M14 13H36V21H14Z" {...outline} strokeWidth="2.2" />
      <path d="M14 3V21M24 3V21" {...outline} strokeWidth="1.6" strokeDasharray="2 2" />
    </>
  ),
} satisfies Record<string, ReactNode>;

export type GlyphState = keyof typeof drawing;

export function Glyph({ state }: { state: GlyphState }) {
  return (
    <svg className="glyph" viewBox="0 0 38 24" aria-hidden="true" data-state={state}>
      {drawing[state]}
    </svg>
  );
}

/** The glyph with its word: the only way to show a state outside a film. */
export function StateWord({ state, word }: { state: GlyphState; word: string }) {
  return (
    <span className="state-word">
      <Glyph state={state} />
      {word}
    </span>
  );
}
