import { AlarmClock } from "lucide-react";
import { type ReactNode, useId } from "react";
import "./bench.css";

export type AlarmProps = {
  /** "Wipe back". */
  title: string;
  /** "by 13:20". */
  by: string;
  /** Whole minutes left; below zero, minutes over. */
  minutes: number;
  /** The film, or nothing. */
  film?: ReactNode;
  children: ReactNode;
  /** Keys of 64 px that answer it. */
  keys: ReactNode;
};

/** Before everything else on the bench, as wide as the screen, with the largest figures of the product. */
export function Alarm({ title, by, minutes, film, children, keys }: AlarmProps) {
  const id = useId();
  const isOver = minutes < 0;
  return (
    <section className="alarm" aria-labelledby={id}>
      {/* spoken once when it comes; the figure that ticks is not spoken over and over */}
      <div className="alarm-head" role="alert">
        <AlarmClock aria-hidden="true" size={26} />
        <h2 id={id}>{title}</h2>
        <span className="alarm-by">{by}</span>
      </div>
      <p className="alarm-figure">
        <b>{Math.abs(minutes)}</b>
        {isOver ? "min over" : "min left"}
      </p>
      {film}
      {children}
      {keys}
    </section>
  );
}
