/** The notes of one piece on this device: two texts that several members may write at once, also without signal. */
import * as Y from "yjs";
import { firstEpoch, notesRoom } from "~/core/wire";
import { copiesOnDevice, dropCopy } from "./device-database";
import { type Connection, type LinkParts, RoomLink } from "./room-link";

export const noteNames = ["condition", "journal"] as const;
export type NoteName = (typeof noteNames)[number];

export type NotesShown = Record<NoteName, string> & { connection: Connection };

export const notesCopyName = (shopId: string, pieceId: string, epoch = firstEpoch): string =>
  `tackfree-notes:${shopId}:${pieceId}${epoch === firstEpoch ? "" : `:${epoch}`}`;

/** The epoch of the copy that this device holds; of several the oldest, in which words may still wait. */
export async function notesEpochOnDevice(shopId: string, pieceId: string): Promise<number> {
  const epochs = (await copiesOnDevice()).flatMap((copy) =>
    copy.kind === "notes" && copy.shopId === shopId && copy.pieceId === pieceId ? [copy.epoch ?? firstEpoch] : [],
  );
  return epochs.length === 0 ? firstEpoch : Math.min(...epochs);
}

/** Marks what this member wrote here, so that undo takes back nobody else's words. */
const writtenHere = Symbol("written here");

export class NotesCopy {
  private current: RoomLink;
  private next: RoomLink | undefined;
  private texts: Record<NoteName, Y.Text>;
  private undoing: Y.UndoManager;
  private hasDatabase = false;
  private isEnded = false;
  private readonly listeners = new Set<() => void>();
  private readonly endListeners = new Set<() => void>();
  private cached: NotesShown | undefined;

  constructor(
    private readonly shopId: string,
    readonly pieceId: string,
    private readonly parts: LinkParts,
    epoch = firstEpoch,
  ) {
    this.current = this.linkOf(epoch);
    ({ texts: this.texts, undoing: this.undoing } = this.take(this.current));
  }

  get link(): RoomLink {
    return this.current;
  }

  /** The server has every word that was written here. */
  get isSent(): boolean {
    return this.next === undefined && this.current.isInStep && !this.current.hasUnsent;
  }

  onEnd(listener: () => void): void {
    this.endListeners.add(listener);
  }

  open(hasDatabase: boolean): Promise<void> {
    this.hasDatabase = hasDatabase;
    return this.current.open(hasDatabase);
  }

  reconnect(): void {
    const isMoving = this.next !== undefined;
    if (this.current.connection.state !== "closed" && !isMoving) this.current.reconnect();
    this.next?.reconnect();
  }

  /** The same object until something is different. */
  get shown(): NotesShown {
    this.cached ??= {
      condition: this.texts.condition.toString(),
      journal: this.texts.journal.toString(),
      connection: connectionShown(this.current.connection),
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
    this.isEnded = true;
    this.listeners.clear();
    this.undoing.destroy();
    for (const listener of this.endListeners) listener();
    await Promise.all([this.current.end(), this.next?.end()]);
  }

  private linkOf(epoch: number): RoomLink {
    const { shopId, pieceId } = this;
    const copy = { name: notesCopyName(shopId, pieceId, epoch), kind: "notes" as const, shopId, pieceId, epoch };
    return new RoomLink(notesRoom(shopId, pieceId, epoch), copy, this.parts);
  }

  private take(link: RoomLink): { texts: Record<NoteName, Y.Text>; undoing: Y.UndoManager } {
    const { document } = link;
    const texts = { condition: document.getText("condition"), journal: document.getText("journal") };
    document.on("update", () => this.changed());
    link.subscribe(() => this.changed());
    link.onClosed((because, epoch) => {
      if (because === "other-epoch" && epoch !== undefined) void this.moveTo(epoch);
    });
    return { texts, undoing: new Y.UndoManager(Object.values(texts), { trackedOrigins: new Set([writtenHere]) }) };
  }

  /**
   * The notes were founded anew. The server has carried over what it heard from the old copy; what was written in that
   * since is sent there once more. What is shown changes over when the new notes are here.
   */
  private async moveTo(epoch: number): Promise<void> {
    if (this.isEnded || this.next) return;
    if (this.current.hasWritten) return this.current.reconnect();
    const next = this.linkOf(epoch);
    this.next = next;
    next.onClosed((because, later) => {
      if (because === "other-epoch" && later !== undefined && this.next === next) void this.giveUp(next, later);
    });
    const stop = next.subscribe(() => {
      if (!next.isInStep || this.next !== next) return;
      stop();
      void this.changeOver(next);
    });
    await next.open(this.hasDatabase);
  }

  private async changeOver(next: RoomLink): Promise<void> {
    this.next = undefined;
    if (this.current.hasWritten) {
      await this.drop(next);
      this.current.reconnect();
      return;
    }
    const before = this.current;
    this.undoing.destroy();
    this.current = next;
    ({ texts: this.texts, undoing: this.undoing } = this.take(next));
    this.changed();
    await this.drop(before);
  }

  private async giveUp(next: RoomLink, later: number): Promise<void> {
    this.next = undefined;
    await this.drop(next);
    await this.moveTo(later);
  }

  private async drop(link: RoomLink): Promise<void> {
    await link.end();
    if (this.hasDatabase) await dropCopy(link.name);
  }

  private changed(): void {
    this.cached = undefined;
    for (const listener of this.listeners) listener();
  }
}

/** On the way to another epoch the notes are apart for a moment, not closed. */
const connectionShown = (connection: Connection): Connection =>
  connection.state === "closed" && connection.because === "other-epoch" ? { state: "connecting" } : connection;

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
