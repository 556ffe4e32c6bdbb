import { closeCode } from "~/core/wire";
import { database } from "~/data/db";
import { ensureDocument, readDocument, writersOf } from "~/data/documents";
import { findRows } from "~/data/rows";
import { updatesOf } from "./floor-room";
import { NotesDocument } from "./notes-document";
import { type NotesAddress, NotesRoom, type NotesSettings } from "./notes-room";
import { NotThere } from "./rooms";

/**
 * Reads the notes of a piece from their log.
 *
 * @throws NotThere where the shop has no such piece
 */
export async function loadNotes(address: NotesAddress, settings: NotesSettings): Promise<NotesRoom> {
  const { shopId, pieceId } = address;
  if (!(await isPiece(shopId, pieceId))) throw new NotThere(closeCode.noSuchRoom);
  const { documentId } = await ensureDocument({ shopId, kind: "notes", subjectId: pieceId });
  const { epoch, lastSeq, snapshotSeq, ...stored } = await readDocument(documentId);
  const notes = new NotesDocument(updatesOf(stored));
  const writers = await writersOf(documentId);
  return new NotesRoom(address, { documentId, epoch, lastSeq, snapshotSeq }, notes, writers, settings);
}

/** Ids of this form only are asked for: the database takes no others. */
const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

const isPiece = async (shopId: string, id: string): Promise<boolean> =>
  uuid.test(id) && (await findRows(database(), "piece", { shopId, id })).length > 0;
