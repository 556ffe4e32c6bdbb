import type { InstantMs } from "~/core/units";
import type { VerdictHere } from "~/device/optimistic";
import type { KeptIntent } from "~/device/queue-database";
import { clockTime } from "~/ui/format";
import type { TapeProps } from "~/ui/kit/tape";

/** What this device changed, in the words of whoever did it. */
const eventWords: Record<string, string> = {
  "claim-taken": "your claim",
  "claim-ended": "your release",
  "coat-applied": "your coat",
  "coat-wiped": "your wipe",
  "room-moved": "your move",
  "stage-moved": "your stage move",
  "test-recorded": "your test",
  "pair-pressed": "pressed together",
  "pair-apart": "set apart",
  promised: "your promise",
  "promise-moved": "your promise",
  "task-added": "your task",
  "task-finished": "finished",
  "timer-started": "your timer",
  "timer-stopped": "your hours",
  "piece-added": "added here",
};

/** "1st", "2nd", "11th". */
export const ordinal = (number: number): string => {
  const isTeen = number % 100 >= 11 && number % 100 <= 13;
  const ending = isTeen ? "th" : (({ 1: "st", 2: "nd", 3: "rd" } as Record<number, string>)[number % 10] ?? "th");
  return `${number}${ending}`;
};

type Waiting = Pick<KeptIntent, "intent" | "expectedOffsetMs">;

/** The tape of each piece that something unsent is about: the last of it, with its place in the queue. */
export function pendingPieces(
  waiting: readonly Waiting[],
  verdictByIntentId: ReadonlyMap<string, VerdictHere>,
  zone: string,
): ReadonlyMap<string, TapeProps> {
  const tapeByPieceId = new Map<string, TapeProps>();
  waiting.forEach(({ intent, expectedOffsetMs }, index) => {
    const verdict = verdictByIntentId.get(intent.intentId);
    if (verdict?.verdict !== "accepted-here") return;
    const madeAt: InstantMs = intent.deviceAt + (intent.offsetMs ?? expectedOffsetMs ?? 0);
    const place = `${ordinal(index + 1)}, ${clockTime(madeAt, zone)}`;
    for (const { kind, pieceId } of verdict.events)
      if (pieceId !== undefined) tapeByPieceId.set(pieceId, { what: eventWords[kind] ?? "your change", place });
  });
  return tapeByPieceId;
}
