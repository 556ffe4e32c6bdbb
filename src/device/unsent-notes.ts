/** Words in notes that the server has not had, taken off this device as they are, and put back. */
import * as buffer from "lib0/buffer";
import { IndexeddbPersistence } from "y-indexeddb";
import * as Y from "yjs";
import { firstEpoch } from "~/core/wire";
import { copiesOnDevice, copyOnDevice, rememberCopy } from "./device-database";
import { notesCopyName } from "./notes-copy";
import type { UnsentNotes } from "./unsent-file";

async function withStored<Value>(name: string, work: (document: Y.Doc) => Value): Promise<Value> {
  const document = new Y.Doc();
  const persistence = new IndexeddbPersistence(name, document);
  await persistence.whenSynced;
  const value = work(document);
  await persistence.destroy();
  document.destroy();
  return value;
}

export async function unsentNotesHere(shopId: string): Promise<UnsentNotes[]> {
  const found: UnsentNotes[] = [];
  for (const { name, pieceId, hasUnsent, epoch = firstEpoch, ...copy } of await copiesOnDevice()) {
    if (copy.shopId !== shopId || !hasUnsent || pieceId === undefined) continue;
    const read = (document: Y.Doc) => ({
      pieceId,
      epoch,
      update: buffer.toBase64(Y.encodeStateAsUpdate(document)),
      condition: document.getText("condition").toString(),
      journal: document.getText("journal").toString(),
    });
    found.push(await withStored(name, read));
  }
  return found;
}

/**
 * Puts words back into the notes on the device that wrote them: they are the same words, and go to the server once however
 * often this is done. They were written in that device's name, so no other device could send them.
 */
export async function putNotesBack(shopId: string, { pieceId, epoch, update }: UnsentNotes): Promise<void> {
  const name = notesCopyName(shopId, pieceId, epoch);
  const before = await copyOnDevice(name);
  await rememberCopy({ ...before, name, kind: "notes", shopId, pieceId, epoch, hasUnsent: true });
  await withStored(name, (document) => Y.applyUpdate(document, buffer.fromBase64(update)));
}
