import { Fragment, type ReactNode, useId } from "react";
import { HoursPattern, type HoursStage } from "./hours-pattern";
import { Tag } from "./tag";

export type HoursPart = { stage: HoursStage; minutes: number; hours: string };

export type HoursRow = {
  id: string;
  /** A piece, or words for work that belongs to none. */
  tag?: string;
  href?: string;
  words?: string;
  /** Who worked on it, with their hours. */
  members?: ReactNode;
  parts: HoursPart[];
  /** The exact sum, "24:04". */
  total: string;
  /** The entries that the row opens to. */
  entries?: ReactNode;
};

export type HoursBarProps = { label: string; rows: HoursRow[] };

const rowMinutes = ({ parts }: HoursRow) => parts.reduce((sum, { minutes }) => sum + minutes, 0);

/** A week's labour: one bar a row on one common scale, a pattern for each stage, and every figure written beside it. */
export function HoursBar({ label, rows }: HoursBarProps) {
  const longestMinutes = Math.max(1, ...rows.map(rowMinutes));
  return (
    <ul className="hours-bar" aria-label={label}>
      {rows.map((row) => (
        <li key={row.id}>
          <div className="hours-name">
            {row.tag !== undefined && <Tag number={row.tag} href={row.href} />}
            {row.words}
          </div>
          {row.members !== undefined && <div className="hours-members">{row.members}</div>}
          <div className="hours-drawing">
            <Bar parts={row.parts} longestMinutes={longestMinutes} />
            <p>
              {row.parts.map(({ stage, hours }) => (
                <span key={stage}>
                  <Swatch stage={stage} />
                  {stage} <b>{hours}</b>
                </span>
              ))}
            </p>
          </div>
          <b className="hours-total">
            <span className="sr-only">in all </span>
            {row.total}
          </b>
          {row.entries !== undefined && (
            <details className="hours-entries">
              <summary>Entries{row.tag !== undefined && <span className="sr-only"> of {row.tag}</span>}</summary>
              {row.entries}
            </details>
          )}
        </li>
      ))}
    </ul>
  );
}

function Bar({ parts, longestMinutes }: { parts: HoursPart[]; longestMinutes: number }) {
  const id = useId();
  let before = 0;
  return (
    <svg className="hours-svg" aria-hidden="true">
      {parts.map(({ stage, minutes }) => {
        const leftPercent = (before / longestMinutes) * 100;
        before += minutes;
        return (
          <Fragment key={stage}>
            <HoursPattern id={`${id}-${stage}`} stage={stage} />
            <rect
              x={`${leftPercent}%`}
              y="1"
              width={`${(minutes / longestMinutes) * 100}%`}
              height="20"
              fill={`url(#${id}-${stage})`}
              stroke="var(--film)"
              strokeWidth="1.5"
            />
          </Fragment>
        );
      })}
    </svg>
  );
}

function Swatch({ stage }: { stage: HoursStage }) {
  const id = useId();
  return (
    <svg className="hours-swatch" aria-hidden="true">
      <HoursPattern id={id} stage={stage} />
      <rect x="1" y="1" width="14" height="10" fill={`url(#${id})`} stroke="var(--film)" strokeWidth="1.5" />
    </svg>
  );
}
