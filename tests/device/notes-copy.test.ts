import fc from "fast-check";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import * as Y from "yjs";
import { NotesCopy } from "~/device/notes-copy";
import { piecesWithUnsentNotes, wipeDevice } from "~/device/session";
import { step2Frame, updateFrame } from "../../server/messages";
import { dresser, monday8, shopId } from "../core/support/shop";
import { emptyPhone } from "./support/browser";
import { HeldSocket, heldSocket } from "./support/floor";

const parts = { now: () => monday8, origin: "ws://shop.test", socket: heldSocket };
const opened: NotesCopy[] = [];
const notesHere = () => {
  const notes = new NotesCopy(shopId, dresser, parts);
  opened.push(notes);
  return notes;
};
const emptyStep2 = step2Frame(Uint8Array.of(0, 0));

beforeEach(() => {
  emptyPhone();
  HeldSocket.made.length = 0;
});
afterEach(async () => {
  await Promise.all(opened.splice(0).map((notes) => notes.end()));
  vi.unstubAllGlobals();
});

/** Texts with repeats and with characters outside the basic plane, which are two units long. */
const words = fc
  .array(fc.constantFrom("a", "b", "é", "🪑", "🪵", " ", "scratch"), { maxLength: 12 })
  .map((part) => part.join(""));

test("whatever is typed over whatever was there, the text then reads as typed", () => {
  const notes = notesHere();
  fc.assert(
    fc.property(words, words, (before, after) => {
      notes.write("condition", before);
      notes.write("condition", after);
      expect(notes.shown.condition).toBe(after);
    }),
  );
});

test("two who write in one report at the same time keep both their words, and neither word is torn", async () => {
  await fc.assert(
    fc.asyncProperty(words, words, async (front, back) => {
      const [mine, theirs] = [notesHere(), notesHere()];
      mine.write("condition", "The top has a ring.");
      Y.applyUpdate(theirs.link.document, Y.encodeStateAsUpdate(mine.link.document));
      mine.write("condition", `${front}The top has a ring.`);
      theirs.write("condition", `The top has a ring.${back}`);
      const [fromMe, fromThem] = [mine, theirs].map((notes) => Y.encodeStateAsUpdate(notes.link.document));
      Y.applyUpdate(mine.link.document, fromThem as Uint8Array);
      Y.applyUpdate(theirs.link.document, fromMe as Uint8Array);
      expect(mine.shown.condition).toBe(`${front}The top has a ring.${back}`);
      expect(theirs.shown.condition).toBe(mine.shown.condition);
      await Promise.all([mine.end(), theirs.end()]);
    }),
    { numRuns: 25 },
  );
});

test("undo takes back this member's words and leaves the other's", async () => {
  const notes = notesHere();
  await notes.open(true);
  HeldSocket.last.accept(emptyStep2);
  notes.write("journal", "Stripped the top. ");
  const other = new Y.Doc();
  Y.applyUpdate(other, Y.encodeStateAsUpdate(notes.link.document));
  other.getText("journal").insert(18, "Smells of shellac.");
  HeldSocket.last.say(updateFrame(Y.encodeStateAsUpdate(other)));
  notes.undo();
  expect(notes.shown.journal).toBe("Smells of shellac.");
  notes.redo();
  expect(notes.shown.journal).toBe("Stripped the top. Smells of shellac.");
});

test("words written without signal rest on the phone, and signing out can warn that they would be lost", async () => {
  const notes = notesHere();
  await notes.open(true);
  notes.write("condition", "Left foot is loose.");
  await notes.end();
  expect(await piecesWithUnsentNotes()).toEqual([dresser]);
  const again = notesHere();
  await again.open(true);
  expect(again.shown.condition).toBe("Left foot is loose.");
  HeldSocket.last.accept(emptyStep2);
  await again.end();
  expect(await piecesWithUnsentNotes()).toEqual([]);
  await wipeDevice();
  const afterwards = notesHere();
  await afterwards.open(true);
  expect(afterwards.shown.condition).toBe("");
});
