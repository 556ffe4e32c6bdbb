import fc from "fast-check";
import { describe, expect, test } from "vitest";
import * as Y from "yjs";
import { EndedNotes, foundNotes } from "../../server/notes-epochs";

type Edit = { text: "condition" | "journal"; at: number; remove: number; insert: string };
const edits = fc.array(
  fc.record({
    text: fc.constantFrom("condition" as const, "journal" as const),
    at: fc.nat({ max: 40 }),
    remove: fc.nat({ max: 6 }),
    insert: fc.stringMatching(/^[a-z]{0,5}$/),
  }),
  { maxLength: 10 },
);

function edit(doc: Y.Doc, { text: name, at, remove, insert }: Edit): void {
  const text = doc.getText(name);
  const from = Math.min(at, text.length);
  text.delete(from, Math.min(remove, text.length - from));
  text.insert(from, insert);
}

const stateOf = (doc: Y.Doc) => Y.encodeStateAsUpdate(doc);
const copyOf = (...updates: Uint8Array[]) => {
  const doc = new Y.Doc();
  for (const update of updates) Y.applyUpdate(doc, update);
  return doc;
};
const wordsOf = (doc: Y.Doc) => [doc.getText("condition").toString(), doc.getText("journal").toString()];

/** Notes with a history, and two devices with a copy of them; then the notes are founded again. */
function founded(before: readonly Edit[], writers = 2) {
  const old = new Y.Doc();
  for (const [index, one] of before.entries()) {
    if (index % 3 === 2) {
      const other = copyOf(stateOf(old));
      edit(other, one);
      Y.applyUpdate(old, stateOf(other));
    } else edit(old, one);
  }
  const ended = new EndedNotes(stateOf(old), 2);
  const fresh = copyOf(foundNotes(old, 2));
  const devices = Array.from({ length: writers }, () => copyOf(stateOf(old)));
  return { old, ended, fresh, devices };
}

const since = (device: Y.Doc, ended: EndedNotes) => Y.encodeStateAsUpdate(device, ended.stateVector);

describe("notes that are founded again", () => {
  test("read as before, whatever came about, and take less room than their history did", () => {
    fc.assert(
      fc.property(edits, (before) => {
        const { old, fresh } = founded(before);
        expect(wordsOf(fresh)).toEqual(wordsOf(old));
        expect(stateOf(fresh).length).toBeLessThanOrEqual(stateOf(old).length);
      }),
    );
  });

  test("what a device wrote in its old copy stands in the new one where it stood, and what it struck is gone", () => {
    fc.assert(
      fc.property(edits, edits, (before, late) => {
        const { old, ended, fresh, devices } = founded(before, 1);
        const device = devices[0] as Y.Doc;
        for (const one of late) edit(device, one);
        Y.applyUpdate(fresh, ended.carryOver(since(device, ended)));
        Y.applyUpdate(old, stateOf(device));
        expect(wordsOf(fresh)).toEqual(wordsOf(old));
        expect(fresh.store.pendingStructs).toBeNull();
        expect(fresh.store.pendingDs).toBeNull();
      }),
      { numRuns: 500 },
    );
  });

  test("however often and in whatever parts a device sends it, it is there once", () => {
    fc.assert(
      fc.property(edits, edits, edits, (before, late, later) => {
        const { ended, fresh, devices } = founded(before, 1);
        const device = devices[0] as Y.Doc;
        for (const one of late) edit(device, one);
        const first = ended.carryOver(since(device, ended));
        for (const one of later) edit(device, one);
        const all = ended.carryOver(since(device, ended));
        const wanted = wordsOf(copyOf(stateOf(fresh), all));
        for (const update of [first, all, first, ended.carryOver(stateOf(device)), all]) Y.applyUpdate(fresh, update);
        expect(wordsOf(fresh)).toEqual(wanted);
      }),
    );
  });

  test("two devices that come back in either order, beside others who write on, end with the same words, none lost", () => {
    fc.assert(
      fc.property(edits, edits, edits, edits, (before, late, other, meanwhile) => {
        const { ended, fresh, devices } = founded(before);
        const [one, two] = devices as [Y.Doc, Y.Doc];
        for (const next of late) edit(one, next);
        for (const next of other) edit(two, next);
        one.getText("journal").insert(one.getText("journal").length, "<FIRST>");
        two.getText("journal").insert(0, "<SECOND>");
        for (const next of meanwhile) edit(fresh, next);
        const [a, b] = [ended.carryOver(since(one, ended)), ended.carryOver(since(two, ended))];
        const [here, there] = [copyOf(stateOf(fresh), a, b), copyOf(stateOf(fresh), b, a)];
        expect(wordsOf(here)).toEqual(wordsOf(there));
        for (const words of ["<FIRST>", "<SECOND>"]) expect(wordsOf(here)[1]?.split(words)).toHaveLength(2);
      }),
    );
  });

  test("a device that missed two foundings is carried over twice, and its words are there once", () => {
    fc.assert(
      fc.property(edits, edits, edits, (before, meanwhile, late) => {
        const { ended, fresh, devices } = founded(before, 1);
        const device = devices[0] as Y.Doc;
        for (const one of meanwhile) edit(fresh, one);
        for (const one of late) edit(device, one);
        device.getText("journal").insert(device.getText("journal").length, "<LATE>");
        const endedAgain = new EndedNotes(stateOf(fresh), 3);
        const latest = copyOf(foundNotes(fresh, 3));
        const words = endedAgain.carryOver(ended.carryOver(since(device, ended)));
        for (const update of [words, words]) Y.applyUpdate(latest, update);
        expect(wordsOf(latest)[1]?.split("<LATE>")).toHaveLength(2);
        expect(latest.store.pendingStructs).toBeNull();
      }),
    );
  });
});
