/** What members send into the notes of a piece that no honest device would, looked at before it touches the notes. */
import { describe, expect, test } from "vitest";
import * as Y from "yjs";
import { limits } from "~/core/wire-limits";
import { NotesDocument } from "../../server/notes-document";
import { type ForgedStruct, forgedUpdate } from "./support/forged-update";

const anybody = () => true;

/** Notes that hold "left foot" of client 1. */
function writtenNotes(): NotesDocument {
  return new NotesDocument([forgedUpdate([{ client: 1, structs: [{ text: "left foot" }] }])]);
}

const many = (count: number, struct: ForgedStruct): ForgedStruct[] => Array.from({ length: count }, () => struct);
const clients = (count: number) =>
  Array.from({ length: count }, (_, index) => ({ client: index + 10, structs: [{ text: "a" }] }));

describe("an update by hand is taken as Yjs takes it", () => {
  test("characters at the start, behind and before others", () => {
    const notes = writtenNotes();
    const update = forgedUpdate([
      {
        client: 2,
        structs: [
          { text: "the ", right: [1, 0] },
          { text: " is loose", left: [1, 8] },
          { deleted: 2, left: [1, 8] },
        ],
      },
    ]);
    expect(notes.try(update, anybody)).toEqual({ writers: new Set([2]) });
    notes.apply([update]);
    expect(notes.text("journal")).toBe("the left foot is loose");
  });
});

describe("before an update is applied its header is walked", () => {
  test.each<[string, Uint8Array, string]>([
    [
      "one struct more than an update may have",
      forgedUpdate([{ client: 2, structs: many(limits.updateStructs + 1, { gone: 1 }) }]),
      "too-large",
    ],
    ["one client more than an update may have", forgedUpdate(clients(limits.updateClients + 1)), "too-large"],
    [
      "one deletion more than an update may have",
      forgedUpdate(
        [],
        Array.from({ length: limits.updateDeletes + 1 }, (_, clock) => ({ client: 1, clock: clock % 9, length: 1 })),
      ),
      "too-large",
    ],
    ["a million items claimed in ten bytes", new Uint8Array([1, 0xc0, 0x84, 0x3d, 2, 0, 4, 1, 0, 0]), "too-large"],
    [
      "four thousand million clients claimed in six bytes",
      new Uint8Array([0xff, 0xff, 0xff, 0xff, 0x0f, 0]),
      "too-large",
    ],
    ["a byte more than an update may have", new Uint8Array(limits.updateBytes + 1), "too-large"],
    [
      "bytes behind its end",
      new Uint8Array([...forgedUpdate([{ client: 2, structs: [{ text: "a" }] }]), 0]),
      "not-text",
    ],
    [
      "the same client twice",
      forgedUpdate([
        { client: 2, structs: [{ text: "a" }] },
        { client: 2, structs: [{ text: "b" }] },
      ]),
      "not-text",
    ],
    ["a client id of 33 bits", forgedUpdate([{ client: 2 ** 32, structs: [{ text: "a" }] }]), "not-text"],
    ["a clock beyond all writing", forgedUpdate([{ client: 2, structs: [{ gone: limits.clock + 1 }] }]), "not-text"],
    ["a text of no characters", forgedUpdate([{ client: 2, structs: [{ text: "" }] }]), "not-text"],
    ["a deleted stretch of no length", forgedUpdate([{ client: 2, structs: [{ deleted: 0 }] }]), "not-text"],
    ["nothing of no length", forgedUpdate([{ client: 2, structs: [{ gone: 0 }] }]), "not-text"],
    ["a deletion of nothing", forgedUpdate([], [{ client: 1, clock: 0, length: 0 }]), "not-text"],
    [
      "a text beside what comes later",
      forgedUpdate([{ client: 2, structs: [{ text: "a", left: [2, 5] }] }]),
      "not-text",
    ],
    ["a text of another name", forgedUpdate([{ client: 2, structs: [{ text: "a", parent: "piece" }] }]), "not-text"],
    [
      "a text inside of an item",
      forgedUpdate([{ client: 2, structs: [{ info: 4, bytes: [0, 1, 0, 1, 97] }] }]),
      "not-text",
    ],
    [
      "a key as in a map",
      forgedUpdate([
        { client: 2, structs: [{ info: 4 | 32, bytes: [1, 7, ...Buffer.from("journal"), 1, 97, 1, 97] }] },
      ]),
      "not-text",
    ],
    [
      "an embedded object",
      forgedUpdate([{ client: 2, structs: [{ info: 5, bytes: [1, 7, ...Buffer.from("journal"), 2, 123, 125] }] }]),
      "not-text",
    ],
    [
      "an array within an array, thirty thousand deep",
      forgedUpdate([{ client: 2, structs: [{ info: 8 | 128, bytes: [1, 0, 1, ...many30000()] }] }]),
      "not-text",
    ],
    [
      "a hole in the middle",
      forgedUpdate([{ client: 2, structs: [{ text: "a" }, { hole: 5 }, { text: "b", left: [2, 0] }] }]),
      "gap",
    ],
    ["clocks that begin in the future", forgedUpdate([{ client: 2, clock: 7, structs: [{ gone: 3 }] }]), "gap"],
    ["a neighbour whom nobody knows", forgedUpdate([{ client: 2, structs: [{ text: "a", left: [77, 3] }] }]), "gap"],
    ["a deletion of what is not there", forgedUpdate([], [{ client: 1, clock: 5, length: 100 }]), "gap"],
    [
      "two that wait for each other",
      forgedUpdate([
        { client: 3, structs: [{ text: "a", left: [2, 0] }] },
        { client: 2, structs: [{ text: "b", left: [3, 0] }] },
      ]),
      "gap",
    ],
  ])("%s is refused, and the notes stay as they were", (_, update, fault) => {
    const notes = writtenNotes();
    const before = notes.since();
    expect(notes.try(update, anybody)).toBe(fault);
    notes.retry([]);
    const honest = forgedUpdate([{ client: 5, structs: [{ text: "!", left: [1, 8] }] }]);
    expect(notes.try(honest, anybody)).toEqual({ writers: new Set([5]) });
    expect(notes.since()).toEqual(before);
  });

  test("clocks of another's client id are not claimed, neither by text nor by nothing", () => {
    const notes = writtenNotes();
    const notOne = (client: number) => client !== 1;
    for (const struct of [{ text: "x", left: [1, 8] as [number, number] }, { gone: 1000 }]) {
      const theft = forgedUpdate([{ client: 1, clock: 9, structs: [struct] }]);
      expect(theft.length).toBeLessThan(20);
      expect(notes.try(theft, notOne)).toBe("not-yours");
    }
    const next = forgedUpdate([{ client: 1, clock: 9, structs: [{ text: " is loose", left: [1, 8] }] }]);
    expect(notes.try(next, anybody)).toEqual({ writers: new Set([1]) });
  });

  test("thousands that claim one place are refused before they are put in order", () => {
    const crowd = (client: number) => forgedUpdate([{ client, structs: many(limits.updateStructs, { text: "a" }) }]);
    const notes = new NotesDocument([]);
    expect(notes.try(crowd(1), anybody)).toEqual({ writers: new Set([1]) });
    notes.apply([crowd(1)]);
    expect(notes.try(crowd(2), anybody)).toBe("too-large");
  });

  test("an honest week apart is taken whole: thousands of words, typed in many sittings beside those of another", () => {
    const [mine, theirs] = [new Y.Doc(), new Y.Doc()];
    const notes = new NotesDocument([]);
    theirs.getText("journal").insert(0, "first. ");
    const start = Y.encodeStateAsUpdate(theirs);
    for (let word = 0; word < 2000; word += 1) theirs.getText("journal").insert(7, "theirs ");
    for (const update of [start, Y.encodeStateAsUpdate(theirs)]) {
      expect(notes.try(update, anybody)).toMatchObject({ writers: expect.any(Set) });
      notes.apply([update]);
    }
    Y.applyUpdate(mine, start);
    for (let sitting = 0; sitting < 100; sitting += 1) {
      const page = new Y.Doc();
      Y.applyUpdate(page, Y.encodeStateAsUpdate(mine));
      const text = page.getText("journal");
      for (let word = 0; word < 20; word += 1) text.insert(7 + word * 5, "mine ");
      text.delete(8, 2);
      Y.applyUpdate(mine, Y.encodeStateAsUpdate(page));
    }
    expect(notes.try(Y.encodeStateAsUpdate(mine), anybody)).toMatchObject({ writers: expect.any(Set) });
  });

  test("notes take no more once their history is as long as it may be, and still let words be struck out", () => {
    const notes = new NotesDocument([]);
    // what stands and what is deleted, by turns, so that they do not become one
    const add = (client: number) => {
      const structs = Array.from({ length: limits.updateStructs }, (_, index): ForgedStruct => {
        const where: { left?: [number, number] } = index === 0 ? {} : { left: [client, index - 1] };
        return index % 2 === 0 ? { text: "x", ...where } : { deleted: 1, ...where };
      });
      return forgedUpdate([{ client, structs }]);
    };
    let client = 1;
    let update = add(client);
    while (typeof notes.try(update, anybody) !== "string") {
      notes.apply([update]);
      client += 1;
      update = add(client);
    }
    notes.retry([]);
    expect(client - 1).toBe(limits.notesStructs / limits.updateStructs);
    const strike = forgedUpdate([], [{ client: 1, clock: 0, length: 1 }]);
    expect(notes.try(strike, anybody)).toEqual({ writers: new Set() });
  });
});

/** The bytes of an array in an array in an array: kind 117 of lib0's values, one element. */
function many30000(): number[] {
  return Array.from({ length: 30_000 }, () => [117, 1]).flat();
}
