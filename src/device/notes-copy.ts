/** The notes of one piece on this device: two texts that several members may write at once, also without signal. */
import * as Y from "yjs";
import { notesRoom } from "~/core/wire";
import { type Connection, type LinkParts, RoomLink } from "./room-link";

export const noteNames = ["condition", "journal"] as const;
export type NoteName = (typeof noteNames)[number];

export type NotesShown = Record<NoteName, string> & { connection: Connection };

export const notesCopyName = (shopId: string, pieceId: string): string => `tackfree-notes:${shopId}:${pieceId}`;

/** Marks what this member wrote here, so that undo takes back nobody else's words. */
const writtenHere = Symbol("written here");

export class NotesCopy {
  readonly link: RoomLink;
  private readonly texts: Record<NoteName, Y.Text>;
  private readonly undoing: Y.UndoManager;
  private readonly listeners = new Set<() => void>();
  private cached: NotesShown | undefined;

  constructor(shopId: string, pieceId: string, parts: LinkParts) {
    const copy = { name: notesCopyName(shopId, pieceId), kind: "notes" as const, shopId, pieceId };
    this.link = new RoomLink(notesRoom(shopId, pieceId), copy, parts);
    const { document } = this.link;
    this.texts = { condition: document.getText("condition"), journal: document.getText("journal") };
    this.undoing = new Y.UndoManager(Object.values(this.texts), { trackedOrigins: new Set([writtenHere]) });
    document.on("update", () => this.changed());
    this.link.subscribe(() => {
      if (this.link.isInStep) this.link.markUnsent(false);
      this.changed();
    });
  }

  open(hasDatabase: boolean): Promise<void> {
    return this.link.open(hasDatabase);
  }

  /** The same object until something is different. */
  get shown(): NotesShown {
    this.cached ??= {
      condition: this.texts.condition.toString(),
      journal: this.texts.journal.toString(),
      connection: this.link.connection,
    };
    return this.cached;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Makes a text read like this, changing only the stretch that differs, so that others' words beside it stay. */
  write(name: NoteName, wanted: string): void {
    const text = this.texts[name];
    const was = text.toString();
    if (was === wanted) return;
    const { start, removed, added } = difference(was, wanted);
    if (!this.link.isInStep) this.link.markUnsent(true);
    this.link.document.transact(() => {
      if (removed > 0) text.delete(start, removed);
      if (added !== "") text.insert(start, added);
    }, writtenHere);
  }

  undo(): void {
    this.undoing.undo();
  }

  redo(): void {
    this.undoing.redo();
  }

  async end(): Promise<void> {
    this.listeners.clear();
    this.undoing.destroy();
    await this.link.end();
  }

  private changed(): void {
    this.cached = undefined;
    for (const listener of this.listeners) listener();
  }
}

const isHalfOfPair = (code: number) => code >= 0xd800 && code <= 0xdfff;

/** The one stretch in which two texts differ; never between the two halves of a character outside the basic plane. */
function difference(was: string, wanted: string): { start: number; removed: number; added: string } {
  const shorter = Math.min(was.length, wanted.length);
  let start = 0;
  while (start < shorter && was.charCodeAt(start) === wanted.charCodeAt(start)) start += 1;
  while (start > 0 && isHalfOfPair(was.charCodeAt(start - 1))) start -= 1;
  let tail = 0;
  while (
    tail < shorter - start &&
    was.charCodeAt(was.length - 1 - tail) === wanted.charCodeAt(wanted.length - 1 - tail)
  ) {
    tail += 1;
  }
  while (tail > 0 && isHalfOfPair(was.charCodeAt(was.length - tail))) tail -= 1;
  return { start, removed: was.length - tail - start, added: wanted.slice(start, wanted.length - tail) };
}
