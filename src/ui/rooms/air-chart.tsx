import type { CSSProperties } from "react";
import { dayEndAt, shopDayAt } from "~/core/calendar";
import type { InstantMs } from "~/core/units";
import { dayName, moment } from "../format";
import type { AirCurve, AirPoint } from "./air-curve";

export type AirChartProps = {
  /** "Air, °C" */
  title: string;
  unit: string;
  curve: AirCurve;
  figureOf: (point: AirPoint) => number;
  /** A dashed line, with its words. */
  limit?: { value: number; words: string };
  zone: string;
};

/** Of the drawing, in units without a size: it is stretched to the width that there is. */
const [width, height] = [1000, 100];

/** Solid where it was read, nothing where it was not; a limit is dashed and carries its figure. */
export function AirChart({ title, unit, curve, figureOf, limit, zone }: AirChartProps) {
  const { fromAt, toAt, lines, gaps } = curve;
  const values = lines.flat().map(figureOf);
  if (values.length === 0) return <p className="air-none">{title}: not read in these days.</p>;
  const [lowest, highest] = [Math.min(...values), Math.max(...values)];
  const all = limit ? [...values, limit.value] : values;
  const [bottom, top] = [Math.floor(Math.min(...all)) - 1, Math.ceil(Math.max(...all)) + 1];
  const x = (at: InstantMs) => ((at - fromAt) / (toAt - fromAt)) * width;
  const y = (value: number) => height - ((value - bottom) / (top - bottom)) * height;
  const midnights = midnightsIn(fromAt, toAt, zone);
  const gapWords = gaps.map((gap) => `${moment(gap.fromAt, toAt, zone)} to ${moment(gap.toAt, toAt, zone)}`);
  const spoken = [
    `${title}: ${lowest.toFixed(1)} to ${highest.toFixed(1)} ${unit}`,
    limit?.words,
    gaps.length > 0 && `not read ${gapWords.join(", ")}`,
  ];
  return (
    <figure className="air-chart">
      <figcaption>
        <b>{title}</b> {lowest.toFixed(1)} to {highest.toFixed(1)} {unit}
      </figcaption>
      <div className="plot">
        <span className="plot-top">{top}</span>
        <span className="plot-bottom">{bottom}</span>
        <svg
          viewBox={`0 0 ${width} ${height}`}
          preserveAspectRatio="none"
          role="img"
          aria-label={spoken.filter(Boolean).join("; ")}
        >
          {midnights.map((at) => (
            <path key={at} className="air-midnight" d={`M${x(at)} 0V${height}`} />
          ))}
          {gaps.map((gap) => (
            <path key={gap.fromAt} className="air-gap" d={`M${x(gap.fromAt)} 0V${height}M${x(gap.toAt)} 0V${height}`} />
          ))}
          {limit && <path className="plot-limit" d={`M0 ${y(limit.value)}H${width}`} />}
          {lines.map((line) => (
            <path
              key={line[0]?.at}
              className="air-line"
              d={`M${line.map((point) => `${x(point.at).toFixed(1)} ${y(figureOf(point)).toFixed(1)}`).join("L")}`}
            />
          ))}
        </svg>
        {limit && (
          <span className="plot-limit-words" style={{ "--at": `${y(limit.value)}%` } as CSSProperties}>
            {limit.words}
          </span>
        )}
      </div>
      <p className="plot-ticks" aria-hidden="true">
        {midnights.map((at) => (
          <span key={at} style={{ "--at": `${(x(at) / width) * 100}%` } as CSSProperties}>
            {dayName(at, zone).split(" ")[0]}
          </span>
        ))}
      </p>
      {gaps.length > 0 && <p className="air-gaps">Not read: {gapWords.join("; ")}.</p>}
    </figure>
  );
}

function midnightsIn(fromAt: InstantMs, toAt: InstantMs, zone: string): InstantMs[] {
  const found: InstantMs[] = [];
  for (let at = dayEndAt(shopDayAt(fromAt, zone), zone); at < toAt; at = dayEndAt(shopDayAt(at, zone), zone))
    found.push(at);
  return found;
}
