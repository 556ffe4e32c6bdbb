import { type Intent, schemaVersion } from "~/core/shop/intent";
import { deviceIdOf, hands, memberIdOf } from "./people";
import type { Line } from "./script";

/** A line as a device with a right clock sends it. */
export const envelopeOf = (line: Line, queue: { deviceSeq: number; seenSeq: number }): Intent => ({
  intentId: line.intentId,
  kind: line.kind,
  body: line.body,
  memberId: memberIdOf(hands[line.by].person),
  deviceId: deviceIdOf(line.by),
  ...queue,
  deviceAt: line.at,
  offsetMs: 0,
  offsetUncertainMs: 20,
  schemaVersion,
  ...(line.happenedAt !== undefined && { happenedAt: line.happenedAt }),
});

/** Wrong in the script or in the rules: either way nothing may be built on it. */
export class UnexpectedRuling extends Error {
  constructor(
    line: Line,
    readonly got: string,
    detail: unknown,
  ) {
    super(`“${line.name}” should be ${line.expect}, and is ${got}: ${JSON.stringify(detail)}`);
  }
}
