import { Cloud, CloudOff, Flame, FlameKindling, Hand, Heater, type LucideIcon, Snowflake, Timer } from "lucide-react";
import type { ReactNode } from "react";
import type { ClosingPoint } from "~/core/safety/closing";
import type { ClosingLine } from "./closing-lines";

const iconOf: Record<ClosingPoint, LucideIcon> = {
  rags: Flame,
  flames: FlameKindling,
  heater: Heater,
  wipes: Hand,
  "cold-glue": Snowflake,
  timers: Timer,
  unsent: CloudOff,
};

type ClosingLineHereProps = { line: ClosingLine; kind: "todo" | "left" | "order"; keys?: ReactNode };

/** The subject, what is found, and the keys that answer it, as wide as two thumbs. */
export function ClosingLineHere({ line, kind, keys }: ClosingLineHereProps) {
  const Icon = kind === "order" && line.point === "unsent" ? Cloud : iconOf[line.point];
  return (
    <li className="closing-line" data-kind={kind} data-point={line.point}>
      <Icon aria-hidden="true" size={26} />
      <div>
        <b>{line.title}</b>
        {line.detail && <small>{line.detail}</small>}
      </div>
      {keys}
    </li>
  );
}
