"use client";
import { shopDayAt } from "~/core/calendar";
import type { InstantMs } from "~/core/units";
import { lastDays, type TypedWhen, whenTyped } from "~/ui/floor/acts/typed-when";
import { InstantField } from "~/ui/kit/instant-field";
import type { Span } from "./hit-spans";

export type TypedSpan = { from: TypedWhen; to: TypedWhen };

/** The typed hours, once both can be read and the one comes before the other. */
export const spanTyped = ({ from, to }: TypedSpan, now: InstantMs, zone: string): Span | undefined => {
  const [found, end] = [whenTyped(from, now, zone), whenTyped(to, now, zone)];
  if (!found.ok || !end.ok) return undefined;
  const [fromAt, toAt] = [found.value.at, end.value.at];
  return fromAt !== undefined && toAt !== undefined && fromAt < toAt ? { fromAt, toAt } : undefined;
};

type SpanFieldProps = { typed: TypedSpan; onChange: (typed: TypedSpan) => void; now: InstantMs; zone: string };

/** From when to when, on the last fourteen days that this device carries. */
export function SpanField({ typed, onChange, now, zone }: SpanFieldProps) {
  const days = lastDays(shopDayAt(now, zone), now, zone, 14);
  const parts = [
    { part: "from", label: "From" },
    { part: "to", label: "Until" },
  ] as const;
  const isWhole = typed.from.wall.time.trim() !== "" && typed.to.wall.time.trim() !== "";
  return (
    <div className="hit-typed">
      {parts.map(({ part, label }) => (
        <InstantField
          key={part}
          label={label}
          glove
          value={typed[part].wall}
          onChange={(wall) => onChange({ ...typed, [part]: { ...typed[part], wall } })}
          days={days}
          error={
            part === "to" && isWhole && !spanTyped(typed, now, zone)
              ? "These hours must lie behind us, and end after they begin."
              : undefined
          }
        />
      ))}
    </div>
  );
}
