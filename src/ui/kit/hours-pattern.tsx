import type { ReactNode } from "react";
import type { StageName } from "./stage-run";

/** Work on a piece belongs to a stage; sweeping and the like belong to the shop. */
export type HoursStage = StageName | "shop";

const ink = { stroke: "var(--film)", strokeWidth: 1.5, fill: "none" } as const;

const ground: Partial<Record<HoursStage, string>> = {
  prep: "var(--film-soft)",
  finish: "var(--film)",
  shop: "var(--plank-sunk)",
};

const marks: Partial<Record<HoursStage, ReactNode>> = {
  acquisition: <path d="M0 4H8" {...ink} />,
  repair: <path d="M-2 2 2-2M0 8 8 0M6 10 10 6" {...ink} />,
  cure: <circle cx="4" cy="4" r="1.3" fill="var(--film)" />,
  listed: <path d="M0 8 8 0M0 0 8 8" {...ink} />,
  sold: <path d="M2 0V8M6 0V8" {...ink} />,
};

/** The stage's pattern, the same wherever hours are drawn; it reads on paper and without colour. */
export function HoursPattern({ id, stage }: { id: string; stage: HoursStage }) {
  return (
    <pattern id={id} width="8" height="8" patternUnits="userSpaceOnUse">
      <rect width="8" height="8" fill={ground[stage] ?? "var(--plank)"} />
      {marks[stage]}
    </pattern>
  );
}
