export type PromiseFlagProps = { text: string; atRisk?: boolean };

/** A promise with its slack in words. At risk the flag is filled and the line doubled. */
export function PromiseFlag({ text, atRisk = false }: PromiseFlagProps) {
  return (
    <span className="flag" data-at-risk={atRisk || undefined}>
      <svg viewBox="0 0 13 15" aria-hidden="true">
        <path
          d="M1.5 15V1M1.5 1.5H12L9 5 12 8.5H1.5"
          fill={atRisk ? "currentColor" : "none"}
          stroke="currentColor"
          strokeWidth="2"
        />
      </svg>
      <span>
        <span className="sr-only">{atRisk ? "Promise at risk: " : "Promise: "}</span>
        {text}
      </span>
    </span>
  );
}
