/** Updates that were honest once, with bytes changed: by the thousand here, a hundred thousand of them in the soak. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { mutatedUpdate } from "./support/mutations";
import { isSound, soundness } from "./support/soundness";

test("four thousand mutilated updates throw nothing, and leave nothing in the notes but text", () => {
  const notes = soundness();
  fc.assert(
    fc.property(mutatedUpdate, (update) => {
      expect(isSound(notes, update)).toBe(true);
    }),
    { numRuns: 4000, seed: 20_261_028 },
  );
  expect(notes.taken).toBeGreaterThan(20);
  expect(notes.refused).toBeGreaterThan(2000);
});
