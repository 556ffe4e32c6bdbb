import * as Y from "yjs";
import type { NotesUpdate, Run } from "./notes-update";

/**
 * Does a document have everything already that an update brings, characters, values and deletions? Costs what the update
 * is long, however large the document.
 */
export function isKnown({ store }: Y.Doc, { structs, deleted }: NotesUpdate): boolean {
  const has = ({ client, clock, length }: Run) => clock + length <= Y.getState(store, client);
  return structs.every(has) && deleted.every((run) => has(run) && isGone(store, run));
}

function isGone(store: Y.Doc["store"], { client, clock, length }: Run): boolean {
  const structs = store.clients.get(client) ?? [];
  if (structs.length === 0 || length === 0) return length === 0;
  for (let index = Y.findIndexSS(structs, clock); index < structs.length; index += 1) {
    const struct = structs[index] as Y.Item | Y.GC;
    if (struct.id.clock >= clock + length) return true;
    if (!struct.deleted) return false;
  }
  return true;
}

/** What an update of any document brings. @throws where the bytes are broken */
export function runsOf(update: Uint8Array): NotesUpdate {
  const { structs, ds } = Y.decodeUpdate(update);
  return {
    structs: structs
      .filter((struct) => !(struct instanceof Y.Skip))
      .map(({ id: { client, clock }, length }) => ({ client, clock, length })),
    deleted: [...ds.clients].flatMap(([client, runs]) =>
      runs.map(({ clock, len }) => ({ client, clock, length: len })),
    ),
  };
}
