import type { Rung } from "./sheet-view";
import { SourceMark } from "./source-mark";

/** The times of a film from first touch to full cure, each on its rung: the higher, the longer. */
export function TimeLadder({ rungs }: { rungs: readonly Rung[] }) {
  return (
    // biome-ignore lint/a11y/noRedundantRoles: Safari drops the role from lists styled without bullets
    <ol className="time-ladder" role="list" aria-label="Times, the shortest first">
      {rungs.map(({ id, words, time, often, source, height }) => (
        <li key={id} data-never={height === undefined || undefined}>
          <span
            className="rung-rail"
            aria-hidden="true"
            style={height === undefined ? undefined : ({ "--height": height } as React.CSSProperties)}
          />
          <span className="rung-words">
            {words}
            {often !== undefined && <small>{often}</small>}
          </span>
          <b className="rung-time">{time}</b>
          <SourceMark source={source} />
        </li>
      ))}
    </ol>
  );
}
