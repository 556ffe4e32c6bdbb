import type { CSSProperties } from "react";

export type DayRuleProps = {
  day: number;
  /** Days from the listing to the next price step. */
  days: number;
  /** Read aloud: "day 27 of 30, price drops Sat 31 Oct". */
  label: string;
};

/** A listed piece has no film to wait for: a rule with one tick a day up to the next price step. */
export function DayRule({ day, days, label }: DayRuleProps) {
  const place = { "--day": Math.min(day, days), "--days": days } as CSSProperties;
  return (
    <div className="day-rule" role="img" aria-label={label} style={place}>
      <span className="film-wood" />
      <span className="day-rule-ticks" />
      <span className="day-rule-past" />
      <span className="day-rule-step" />
    </div>
  );
}
