import fc from "fast-check";
import { expect, test } from "vitest";
import { mutatedUpdate } from "../server/support/mutations";
import { isSound, soundness } from "../server/support/soundness";

const minuteMs = 60_000;

test(
  "a hundred thousand mutilated updates throw nothing, and leave nothing in the notes but text",
  () => {
    // begun anew a hundred times, so that what was taken does not hide what comes
    for (let round = 0; round < 100; round += 1) {
      const notes = soundness();
      fc.assert(
        fc.property(mutatedUpdate, (update) => {
          expect(isSound(notes, update)).toBe(true);
        }),
        { numRuns: 1000 },
      );
      expect(notes.refused).toBeGreaterThan(100);
    }
  },
  30 * minuteMs,
);
