/** The ripple under "Tack" levels out under "free". */
export function Wordmark() {
  return (
    <span className="wordmark" role="img" aria-label="Tackfree">
      <svg viewBox="0 0 172 40" aria-hidden="true">
        <text x="0" y="27" fill="currentColor" textLength="170" lengthAdjust="spacingAndGlyphs">
          Tackfree
        </text>
        <path
          d="M1 36C6 29 11 29 16 36S26 43 31 36 41 30 46 36 55 41 60 36 68 32.5 73 36 80 38.5 86 36.5 94 36 100 36H170"
          fill="none"
          stroke="var(--enamel)"
          strokeWidth="4"
          strokeLinecap="round"
        />
      </svg>
    </span>
  );
}
