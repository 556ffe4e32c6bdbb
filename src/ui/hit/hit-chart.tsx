import type { CSSProperties } from "react";
import type { RoomAir } from "~/core/climate/history";
import { hourMs, type InstantMs } from "~/core/units";
import { celsius, clockTime, dayName, duration } from "~/ui/format";
import { airCurve } from "~/ui/rooms/air-curve";
import type { Span } from "./hit-spans";

export type HitChartProps = {
  air: RoomAir;
  span: Span;
  now: InstantMs;
  /** Below it something in the room does not harden, or is spoilt. */
  limitCelsius?: number;
  zone: string;
};

/** Of the drawing, in units without a size: it is stretched to the width that there is. */
const [width, height] = [1000, 100];
const aroundMs = 5 * hourMs;
const ticks = 4;

/** The temperature around the span, which is crossed: the line through it is what everything in the room has felt. */
export function HitChart({ air, span, now, limitCelsius, zone }: HitChartProps) {
  const [fromAt, toAt] = [span.fromAt - aroundMs, Math.min(now, span.toAt + aroundMs)];
  const { lines } = airCurve(air, fromAt, toAt);
  const values = lines.flat().map((point) => point.celsius);
  if (values.length === 0) return <p className="hit-unread">Nobody read this room in these hours.</p>;
  const [lowest, highest] = [Math.min(...values), Math.max(...values)];
  const isLimitNear = limitCelsius !== undefined && limitCelsius > lowest - 3 && limitCelsius < highest + 3;
  const all = isLimitNear ? [lowest, highest, limitCelsius] : [lowest, highest];
  const [bottom, top] = [Math.floor(Math.min(...all)) - 1, Math.ceil(Math.max(...all)) + 1];
  const x = (at: InstantMs) => ((at - fromAt) / (toAt - fromAt)) * width;
  const y = (value: number) => height - ((value - bottom) / (top - bottom)) * height;
  const at = (percent: number) => ({ "--at": `${percent}%` }) as CSSProperties;
  const marks = Array.from({ length: ticks }, (_, index) => {
    const hour = Math.ceil((fromAt + (index / ticks) * (toAt - fromAt)) / hourMs) * hourMs;
    return { at: hour, words: `${index === 0 ? `${dayName(hour, zone).split(" ")[0]} ` : ""}${clockTime(hour, zone)}` };
  });
  const long = duration((span.toAt - span.fromAt) / 1000);
  return (
    <figure className="hit-chart">
      <div className="plot">
        <span className="plot-top">{celsius(Math.round(highest))}</span>
        <span className="plot-bottom">{celsius(Math.round(lowest))}</span>
        <svg
          viewBox={`0 0 ${width} ${height}`}
          preserveAspectRatio="none"
          role="img"
          aria-label={`Air from ${highest.toFixed(1)} down to ${lowest.toFixed(1)} °C; these hours last ${long}`}
        >
          <rect
            className="hit-span"
            x={x(span.fromAt)}
            y={0}
            width={x(Math.min(span.toAt, toAt)) - x(span.fromAt)}
            height={height}
          />
          {isLimitNear && <path className="plot-limit" d={`M0 ${y(limitCelsius)}H${width}`} />}
          {lines.map((line) => (
            <path
              key={line[0]?.at}
              className="hit-line"
              d={`M${line.map((point) => `${x(point.at).toFixed(1)} ${y(point.celsius).toFixed(1)}`).join("L")}`}
            />
          ))}
        </svg>
        {isLimitNear && (
          <span className="plot-limit-words" style={at(y(limitCelsius))}>
            below {celsius(limitCelsius)}: no hours
          </span>
        )}
      </div>
      <p className="plot-ticks" aria-hidden="true">
        {marks.map((mark) => (
          <span key={mark.at} style={at((x(mark.at) / width) * 100)}>
            {mark.words}
          </span>
        ))}
      </p>
    </figure>
  );
}
