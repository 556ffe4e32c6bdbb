import { type CurveView, curveSize } from "./cure-curve-view";
import "./cure-curve.css";

const { width, height } = curveSize;

/** What a film has earned against time: the slow clock drawn out, the likely one broken, the room's warmth behind them. */
export function CureCurve({ surface, view }: { surface: string; view: CurveView }) {
  const { words, nowX, stops } = view;
  return (
    <figure className="cure-curve">
      <figcaption>{surface}</figcaption>
      <svg viewBox={`0 -4 ${width} ${height + 8}`} role="img" aria-label={`${surface}: ${words.join(" ")}`}>
        <title>{surface}</title>
        {stops.map((stop) => (
          <g key={`${stop.kind} ${stop.x}`} data-kind={stop.kind} className="curve-stop">
            <rect x={stop.x} y={0} width={stop.width} height={height} />
            {stop.width > 34 && (
              <text x={stop.x + stop.width / 2} y={height - 6}>
                {stop.kind}
              </text>
            )}
          </g>
        ))}
        {view.lowestY !== undefined && (
          <line className="curve-lowest" x1={0} x2={width} y1={view.lowestY} y2={view.lowestY} />
        )}
        {view.air.map((points) => (
          <polyline key={points} className="curve-air" points={points} />
        ))}
        <line className="curve-base" x1={0} x2={width} y1={height} y2={height} />
        <line className="curve-needed" x1={0} x2={width} y1={0} y2={0} />
        <polyline className="curve-likely" points={view.likely} />
        <polyline className="curve-safe" points={view.safe} />
        {nowX < width && (
          <g className="curve-now">
            <line x1={nowX} x2={nowX} y1={-4} y2={height + 4} />
            <text x={nowX - 4} y={8}>
              now
            </text>
          </g>
        )}
      </svg>
      <div className="curve-ends" aria-hidden="true">
        <span>{view.laid}</span>
        <span>{view.end}</span>
      </div>
      <ul className="curve-key" aria-hidden="true">
        <li data-line="safe">safe</li>
        <li data-line="likely">likely</li>
        {view.coldest !== undefined && (
          <li data-line="air">
            air {view.coldest} to {view.warmest}
          </li>
        )}
        {(["cold", "unread"] as const)
          .filter((kind) => stops.some((stop) => stop.kind === kind))
          .map((kind) => (
            <li key={kind} data-stop={kind}>
              {kind}: stood still
            </li>
          ))}
      </ul>
      {words.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </figure>
  );
}
