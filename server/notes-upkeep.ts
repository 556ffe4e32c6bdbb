import type { InstantMs } from "~/core/units";
import { foundAgain, storeSnapshot } from "~/data/documents";
import type { NotesDocument } from "./notes-document";
import { foundNotes } from "./notes-epochs";
import { sameDocument } from "./same-document";

/** Below this nobody notices. */
const leastHistoryBytes = 128 * 1024;
/** Past this, most of what a phone loads is how the words came about, and not the words. */
const mostBytesPerByte = 4;

/** These notes have been founded again by another process. */
export class FoundAgain extends Error {
  constructor(readonly epoch: number) {
    super(`notes were founded again as epoch ${epoch}`);
  }
}

export type Upkeep = "kept" | "behind" | { foundAgain: number };

/**
 * Replaces what the log says of notes by what they are: a snapshot or, where that too is history for the most part, the
 * words alone under a new epoch. Behind: somebody else has written meanwhile, which is to be read first.
 */
export async function keepNotesShort(
  notes: NotesDocument,
  { documentId, epoch, lastSeq }: { documentId: string; epoch: number; lastSeq: number },
  now: InstantMs,
): Promise<Upkeep> {
  const state = notes.since();
  if (!isHistory(notes, state)) {
    await storeSnapshot({
      documentId,
      epoch,
      snapshotSeq: lastSeq,
      state,
      now,
      isWhole: sameDocument(notes.document),
    });
    return "kept";
  }
  const fresh = foundNotes(notes.document, epoch + 1);
  const founded = await foundAgain({ documentId, epoch, lastSeq, state: fresh, last: { state, now } });
  return founded === undefined ? "behind" : { foundAgain: founded };
}

export function isHistory(notes: NotesDocument, state: Uint8Array): boolean {
  if (state.length <= leastHistoryBytes) return false;
  const words = Buffer.byteLength(notes.text("condition")) + Buffer.byteLength(notes.text("journal"));
  return state.length > mostBytesPerByte * words;
}
