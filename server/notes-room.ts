import * as Y from "yjs";
import type { InstantMs } from "~/core/units";
import { closeCode, limits, type RoomAddress } from "~/core/wire";
import { appendUpdates, storeSnapshot } from "~/data/documents";
import type { Connection } from "./connection";
import { type Frame, isEmptyUpdate, step1Frame, step2Frame, updateFrame } from "./messages";
import type { Fault, NotesDocument } from "./notes-document";
import { PresenceBoard } from "./presence";
import type { Room } from "./rooms";

export type NotesAddress = Extract<RoomAddress, { kind: "notes" }>;
type Stored = { documentId: string; epoch: number; lastSeq: number; snapshotSeq: number };
type Accepted = { update: Uint8Array<ArrayBuffer>; memberId: string };

const updatesPerSnapshot = 200;
/** So often a client may send what rests on something missing; each time it is asked for the rest. */
const mostGaps = 3;

const codeOf: Record<Exclude<Fault, "gap">, number> = {
  "not-text": closeCode.malformed,
  "not-yours": closeCode.noRight,
  "too-large": closeCode.tooLarge,
};

/**
 * The notes of a piece, written by members. An update is judged, stored, and only then taken in and told to everybody, its
 * writer included: to hear one's own words is to know that they are kept.
 */
export class NotesRoom implements Room {
  readonly connections = new Set<Connection>();
  readonly presence: PresenceBoard;
  private readonly synced = new Set<Connection>();
  private accepted: Accepted[] = [];
  private storing: Promise<void> | undefined;
  private storingUpdates: readonly Accepted[] = [];
  private readonly gaps = new Map<Connection, number>();
  /** Whose client ids are whose: nobody may write on in another's name. */
  private readonly memberByClient = new Map<number, string>();

  constructor(
    readonly address: NotesAddress,
    private readonly stored: Stored,
    private readonly notes: NotesDocument,
    private readonly now: () => InstantMs,
    /** The log cannot be trusted any more: the room is to be dropped. */
    private readonly broken: (error: unknown) => void,
  ) {
    this.presence = new PresenceBoard(now());
  }

  get hasPending(): boolean {
    return this.storing !== undefined;
  }

  admit(connection: Connection): void {
    this.connections.add(connection);
    connection.deliverTo({
      frame: (frame) => this.hear(connection, frame),
      closed: () => this.dismiss(connection),
    });
    // what a device wrote while it was apart travels in its answer to this
    if (connection.access.mode === "write") connection.send(step1Frame(this.notes.stateVector()));
  }

  beat(): void {
    this.presence.flush();
  }

  async drain(): Promise<void> {
    await this.storing;
  }

  destroy(): void {
    this.notes.destroy();
  }

  private hear(connection: Connection, frame: Frame): void {
    switch (frame.kind) {
      case "step1":
        this.answer(connection, frame.stateVector);
        return;
      case "presence":
        if (!this.presence.hear(connection, frame.presence)) connection.close(closeCode.malformed);
        return;
      case "query-presence":
        this.presence.listen(connection);
        return;
      default:
        if (!isEmptyUpdate(frame.update)) this.take(connection, new Uint8Array(frame.update));
    }
  }

  private answer(connection: Connection, stateVector: Uint8Array): void {
    try {
      connection.send(step2Frame(this.notes.since(stateVector)));
      this.synced.add(connection);
    } catch {
      connection.close(closeCode.malformed);
    }
  }

  private take(connection: Connection, update: Uint8Array<ArrayBuffer>): void {
    const { mode, memberId } = connection.access;
    if (mode === "read" || memberId === undefined) this.refuseReader(connection, update);
    else if (update.length > limits.updateBytes) connection.close(closeCode.tooLarge);
    else {
      const tried = this.notes.try(update, (client) => (this.memberByClient.get(client) ?? memberId) === memberId);
      if (typeof tried === "string") this.refuse(connection, tried);
      else this.accept({ update, memberId }, tried.writers);
    }
  }

  private accept(accepted: Accepted, writers: Iterable<number>): void {
    for (const client of writers) this.memberByClient.set(client, accepted.memberId);
    this.accepted.push(accepted);
    this.storing ??= this.store();
  }

  private refuse(connection: Connection, fault: Fault): void {
    this.notes.retry([...this.storingUpdates, ...this.accepted].map(({ update }) => update));
    const gaps = (this.gaps.get(connection) ?? 0) + 1;
    if (fault !== "gap") connection.close(codeOf[fault]);
    else if (gaps >= mostGaps) connection.close(closeCode.malformed);
    else {
      this.gaps.set(connection, gaps);
      connection.send(step1Frame(this.notes.stateVector()));
    }
  }

  private refuseReader(connection: Connection, update: Uint8Array): void {
    try {
      if (this.notes.contains(update)) return;
    } catch {
      // broken bytes are refused like anything else that a reader sends
    }
    connection.close(closeCode.noRight);
  }

  /** Stores what has been accepted, together; what comes meanwhile waits for the next round. */
  private async store(): Promise<void> {
    try {
      while (this.accepted.length > 0) {
        this.storingUpdates = this.accepted;
        this.accepted = [];
        await this.append(this.storingUpdates);
        this.tell(this.storingUpdates.map(({ update }) => update));
        this.storingUpdates = [];
        await this.compact();
      }
    } catch (error) {
      this.broken(error);
    } finally {
      this.storing = undefined;
    }
  }

  private async append(updates: readonly Accepted[]): Promise<void> {
    const { documentId, epoch, lastSeq } = this.stored;
    const firstSeq = await appendUpdates({ documentId, epoch, updates, now: this.now() });
    if (firstSeq !== lastSeq + 1)
      throw new Error(`the log of notes ${documentId} is at ${firstSeq}, not after ${lastSeq}`);
    this.stored.lastSeq += updates.length;
  }

  private tell(updates: readonly Uint8Array[]): void {
    this.notes.apply(updates);
    const frame = updateFrame(updates.length === 1 ? (updates[0] as Uint8Array) : Y.mergeUpdates([...updates]));
    for (const connection of this.synced) connection.send(frame);
  }

  private async compact(): Promise<void> {
    const { documentId, epoch, lastSeq, snapshotSeq } = this.stored;
    if (lastSeq - snapshotSeq < updatesPerSnapshot) return;
    await storeSnapshot({ documentId, epoch, snapshotSeq: lastSeq, state: this.notes.since() });
    this.stored.snapshotSeq = lastSeq;
  }

  private dismiss(connection: Connection): void {
    this.connections.delete(connection);
    this.synced.delete(connection);
    this.gaps.delete(connection);
    this.presence.leave(connection);
  }
}
