import { closeCode } from "~/core/wire";
import { database } from "~/data/db";
import { type DocumentHead, endOfEpoch, ensureDocument, readDocument, writersOf } from "~/data/documents";
import { findRows } from "~/data/rows";
import { EndedNotesRoom, type EndedNotesSettings } from "./ended-notes-room";
import { updatesOf } from "./floor-room";
import { LogTail } from "./log-tail";
import { NotesDocument } from "./notes-document";
import { EndedNotes } from "./notes-epochs";
import { type NotesAddress, NotesRoom, type NotesSettings } from "./notes-room";
import { NotThere } from "./rooms";

/**
 * Reads the notes of a piece from their log; or, under an epoch that is over, what it held at its end.
 *
 * @throws NotThere where the shop has no such piece, or the notes no such epoch
 */
export async function loadNotes(
  address: NotesAddress,
  settings: NotesSettings,
  ended: (epoch: number) => Pick<EndedNotesSettings, "withPresent" | "broken">,
): Promise<NotesRoom | EndedNotesRoom> {
  const { shopId, pieceId } = address;
  if (!(await isPiece(shopId, pieceId))) throw new NotThere(closeCode.noSuchRoom);
  const head = await ensureDocument({ shopId, kind: "notes", subjectId: pieceId });
  if (address.epoch < head.epoch) return loadEnded(address, head, ended(head.epoch));
  const { documentId } = head;
  const { epoch, lastSeq, ...stored } = await readDocument(documentId);
  if (address.epoch !== epoch) throw new NotThere(closeCode.otherEpoch, `${epoch}`);
  const notes = new NotesDocument(updatesOf(stored));
  const writers = await writersOf(documentId);
  const tail = LogTail.of(stored.updates, settings.now());
  return new NotesRoom(address, { documentId, epoch, lastSeq }, notes, writers, tail, settings);
}

async function loadEnded(
  address: NotesAddress,
  { documentId, epoch }: DocumentHead,
  settings: Pick<EndedNotesSettings, "withPresent" | "broken">,
): Promise<EndedNotesRoom> {
  const ended: EndedNotes[] = [];
  for (let over = address.epoch; over < epoch; over += 1) {
    const state = await endOfEpoch(documentId, over);
    if (!state) throw new Error(`nothing is kept of epoch ${over} of notes ${documentId}`);
    ended.push(new EndedNotes(state, over + 1));
  }
  return new EndedNotesRoom(address, { documentId, epoch, ended, ...settings });
}

/** Ids of this form only are asked for: the database takes no others. */
const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

const isPiece = async (shopId: string, id: string): Promise<boolean> =>
  uuid.test(id) && (await findRows(database(), "piece", { shopId, id })).length > 0;
