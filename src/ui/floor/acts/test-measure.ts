import type { Picture } from "~/core/cure/picture";
import { leastReliablePercent } from "~/core/cure/test-subject";
import { measureSays } from "~/core/cure/washed-wood";
import type { Surface } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import type { TestResult } from "./test-kinds";

export type MeasureKind = "moisture-meter" | "weight";
export type MeasureFound = { result: TestResult; words: string };

/** What a typed reading says, before it is written down: the rule decides, not a feeling about a number. */
export function measureFound(
  picture: Picture,
  surface: Surface,
  kind: MeasureKind,
  value: number,
  at: InstantMs,
): MeasureFound {
  const unit = kind === "weight" ? ("gram" as const) : ("percent" as const);
  const found = measureSays(picture, surface, { kind, at, measured: { value, unit } });
  if (kind === "weight") {
    if (found.says === "dry") return { result: "pass", words: "Dry: it has stopped losing weight." };
    if (found.says === "wet") return { result: "fail", words: "Still drying: it lost more than half a percent." };
    return { result: "pending", words: "Weigh it again in a day: one weighing says nothing." };
  }
  const rest = "equilibriumPercent" in found && found.equilibriumPercent;
  const room = rest ? ` Wood comes to rest at ${rest.toFixed(1)} % in this room.` : "";
  const guess = value < leastReliablePercent ? " Below 6 % a pin meter guesses: try another spot." : "";
  if (found.says === "dry") return { result: "pass", words: `Dry enough.${room}${guess}` };
  if (found.says === "wet")
    return { result: "fail", words: `Not dry: 12 % at most, within 2 of the room.${room}${guess}` };
  return { result: "unclear", words: `Read the room’s air too: without it this says little.${guess}` };
}
