import * as Y from "yjs";
import { readFrame, readPresence } from "../../../server/messages";
import { NotesDocument } from "../../../server/notes-document";

/** Notes that have to stay sound, and a copy of somebody who only hears of what was accepted. */
export type Notes = { document: NotesDocument; reader: Y.Doc; taken: number; refused: number };

export const soundness = (): Notes => ({ document: new NotesDocument([]), reader: new Y.Doc(), taken: 0, refused: 0 });

const texts = (doc: Y.Doc) => ["condition", "journal"].map((name) => doc.getText(name).toString());
const isText = (doc: Y.Doc) =>
  doc
    .getText("journal")
    .toDelta()
    .every(({ insert, attributes }: Record<string, unknown>) => typeof insert === "string" && !attributes);

/**
 * Gives an update to the notes as a room does. Is then everything as it has to be: a refused one changed nothing, an
 * accepted one left text alone and nothing waiting, and whoever hears of it has the same?
 */
export function isSound(notes: Notes, update: Uint8Array): boolean {
  const { document, reader } = notes;
  const before = document.since();
  readFrame(update);
  readPresence(update);
  document.contains(update);
  const tried = document.try(update, () => true);
  if (typeof tried === "string") {
    notes.refused += 1;
    document.retry([]);
    return Buffer.from(document.since()).equals(before);
  }
  notes.taken += 1;
  document.apply([update]);
  Y.applyUpdate(reader, update);
  const ours = document.document;
  const { pendingStructs, pendingDs } = ours.store;
  const roots = [...ours.share.keys()].every((root) => root === "journal" || root === "condition");
  return (
    roots && pendingStructs === null && pendingDs === null && isText(ours) && `${texts(ours)}` === `${texts(reader)}`
  );
}
