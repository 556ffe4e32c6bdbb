import type { InstantMs } from "~/core/units";
import { closeCode, type RoomAddress } from "~/core/wire";
import type { Transaction } from "~/data/db";
import { appendUpdates, readDocument } from "~/data/documents";
import type { Connection } from "./connection";
import { type Commit, floorChanges, isWindowOver } from "./floor-contents";
import { FloorDocument, type FloorEntry } from "./floor-document";
import { type Frame, isEmptyUpdate, step2Frame, updateFrame } from "./messages";
import { PresenceBoard } from "./presence";
import type { Room } from "./rooms";

export type FloorAddress = Extract<RoomAddress, { kind: "floor" }>;
type Stored = { documentId: string; lastSeq: number };

/**
 * The floor of a shop: written by the server alone, inside of the transaction that stores the rows, and told to nobody
 * before that transaction has been committed. Its readers speak only of themselves.
 */
export class FloorRoom implements Room {
  readonly connections = new Set<Connection>();
  readonly presence: PresenceBoard;
  /** Readers that have had the whole floor, and therefore understand what changes. */
  private readonly synced = new Set<Connection>();
  /** In the document already, but not yet committed as far as is known here. */
  private staged: { update: Uint8Array<ArrayBuffer> | undefined } | undefined;
  private readonly asking = new Map<Connection, Uint8Array>();

  constructor(
    readonly address: FloorAddress,
    private stored: Stored,
    private floor: FloorDocument,
    private readonly now: () => InstantMs,
  ) {
    this.presence = new PresenceBoard(now());
  }

  get hasPending(): boolean {
    return this.staged !== undefined;
  }

  /** True once a new day has begun and the window of air has not been moved on. */
  get isWindowOver(): boolean {
    return isWindowOver(this.floor, this.now());
  }

  admit(connection: Connection): void {
    this.connections.add(connection);
    connection.deliverTo({
      frame: (frame) => this.hear(connection, frame),
      closed: () => this.dismiss(connection),
    });
  }

  beat(): void {
    this.presence.flush();
  }

  async drain(): Promise<void> {}

  destroy(): void {
    this.floor.destroy();
  }

  /** Takes in what a commit changes, last inside of its transaction. Then either `publish` or `restore` must follow. */
  async stage(tx: Transaction, commit: Commit): Promise<void> {
    const now = this.now();
    await this.write(tx, (floor) => floorChanges(tx, floor, commit, now));
  }

  /** Takes in other changes: those that time makes. */
  async write(tx: Transaction, changes: (floor: FloorDocument) => Promise<FloorEntry[]>): Promise<void> {
    if (this.staged) await this.restore(); // the transaction before this one was given up
    const entries = await changes(this.floor);
    this.staged = { update: undefined };
    const update = this.floor.set(entries);
    this.staged = { update };
    if (!update) return;
    const { documentId, lastSeq } = this.stored;
    const { epoch } = this.address;
    const seq = await appendUpdates({ documentId, epoch, updates: [{ update }], now: this.now() }, tx);
    if (seq !== lastSeq + 1) throw new Error(`the log of floor ${documentId} is at ${seq}, not after ${lastSeq}`);
  }

  /** The commit stands: tells the readers. */
  publish(): void {
    const update = this.staged?.update;
    this.staged = undefined;
    if (update) {
      this.stored.lastSeq += 1;
      const frame = updateFrame(update);
      for (const connection of this.synced) connection.send(frame);
    }
    this.answerAll();
  }

  /**
   * The transaction did not stand, or nobody knows whether it did: what the log has is the truth. Readers have heard
   * nothing of it; they get everything once more, in case it stood after all.
   */
  async restore(): Promise<void> {
    const stored = await readDocument(this.stored.documentId);
    if (stored.epoch !== this.address.epoch) throw new Error(`floor ${stored.documentId} was founded again`);
    const broken = this.floor;
    this.floor = FloorDocument.of(updatesOf(stored));
    this.stored = { documentId: stored.documentId, lastSeq: stored.lastSeq };
    this.staged = undefined;
    broken.destroy();
    const frame = updateFrame(this.floor.since());
    for (const connection of this.synced) connection.send(frame);
    this.answerAll();
  }

  private hear(connection: Connection, frame: Frame): void {
    switch (frame.kind) {
      case "step1":
        if (this.staged) this.asking.set(connection, frame.stateVector);
        else this.answer(connection, frame.stateVector);
        return;
      case "presence":
        if (!this.presence.hear(connection, frame.presence)) connection.close(closeCode.malformed);
        return;
      case "query-presence":
        this.presence.listen(connection);
        return;
      default:
        this.refuse(connection, frame.update);
        return;
    }
  }

  private answer(connection: Connection, stateVector: Uint8Array): void {
    const update = attempt(() => this.floor.since(stateVector));
    if (!update) {
      connection.close(closeCode.malformed);
      return;
    }
    connection.send(step2Frame(update));
    this.synced.add(connection);
  }

  private answerAll(): void {
    const asking = [...this.asking];
    this.asking.clear();
    for (const [connection, stateVector] of asking) this.answer(connection, stateVector);
  }

  /** A device may send back what it kept of the floor, which says nothing new; anything else is an attempt to write. */
  private refuse(connection: Connection, update: Uint8Array): void {
    if (isEmptyUpdate(update)) return;
    const isKnown = attempt(() => ({ is: this.floor.contains(update) }))?.is ?? false;
    if (!isKnown) connection.close(closeCode.noRight);
  }

  private dismiss(connection: Connection): void {
    this.connections.delete(connection);
    this.synced.delete(connection);
    this.asking.delete(connection);
    this.presence.leave(connection);
  }
}

export const updatesOf = (stored: {
  snapshot?: Uint8Array;
  updates: readonly { update: Uint8Array }[];
}): Uint8Array[] => [...(stored.snapshot ? [stored.snapshot] : []), ...stored.updates.map(({ update }) => update)];

/** Yjs throws on bytes that are not its own; whoever sent them is to be told, not the process. */
const attempt = <Value>(work: () => Value): Value | undefined => {
  try {
    return work();
  } catch {
    return undefined;
  }
};
