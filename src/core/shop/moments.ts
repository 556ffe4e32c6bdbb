import { accept, type Result, refuse } from "../result";
import { type InstantMs, minuteMs, secondMs } from "../units";
import type { Intent } from "./intent";
import type { Refusal } from "./refusal";

/** The three times of an intent. Physics goes by the first, rights of reports by the second, possession by the third. */
export type Moments = {
  happenedAt: InstantMs;
  madeAt: InstantMs;
  recordedAt: InstantMs;
  /** False when the device's clock was never measured: then nothing may rest on when it was made. */
  isClockTrusted: boolean;
};

/** Sent within this time of being made, and by itself, an intent counts as made when the server ruled. */
const onlineMs = 10 * secondMs;
/** How far a happening may lie ahead of its making before it is called the future rather than a rounding. */
const aheadMs = 2 * minuteMs;

/**
 * Works out when an intent was made and when its matter happened. A measured clock is corrected whatever its error; an
 * unmeasured one counts only for what carries a typed time.
 *
 * @param recordedAt the server's clock
 * @param lastMadeAt of the same device's previous intent: the order of one device never runs backwards
 * @param cameAlone false for one of several that came together: they have waited, however shortly, and the times between
 *   them are somebody's minutes
 */
export function momentsOf(
  intent: Intent,
  recordedAt: InstantMs,
  lastMadeAt?: InstantMs,
  cameAlone = true,
): Result<Moments, Refusal> {
  const isClockTrusted = intent.offsetMs !== undefined;
  const corrected = isClockTrusted ? intent.deviceAt + (intent.offsetMs as number) : recordedAt;
  const bounded = Math.min(Math.max(corrected, lastMadeAt ?? corrected), recordedAt);
  const madeAt = cameAlone && recordedAt - bounded <= onlineMs ? recordedAt : bounded;
  const happenedAt = intent.happenedAt ?? madeAt;
  if (happenedAt > madeAt + aheadMs) return refuse({ kind: "in-the-future", happenedAt, latestAt: madeAt });
  return accept({ happenedAt: Math.min(happenedAt, madeAt), madeAt, recordedAt, isClockTrusted });
}
