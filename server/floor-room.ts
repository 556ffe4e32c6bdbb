import type { InstantMs } from "~/core/units";
import { closeCode, type RoomAddress } from "~/core/wire";
import type { Transaction } from "~/data/db";
import { appendUpdates, readDocument, storeSnapshot, updatesAfter } from "~/data/documents";
import { PassingFault } from "~/data/faults";
import type { Connection } from "./connection";
import { type Commit, floorChanges, isWindowOver } from "./floor-contents";
import { FloorDocument, type FloorEntry } from "./floor-document";
import { isHeavy, isOutgrown } from "./floor-weight";
import { LogTail } from "./log-tail";
import { type Frame, isEmptyUpdate } from "./messages";
import { figures } from "./metrics/figures";
import type { DocumentNews } from "./neighbours";
import type { PresenceBoard } from "./presence";
import { Readers } from "./readers";
import type { Room } from "./rooms";

export type FloorAddress = Extract<RoomAddress, { kind: "floor" }>;
type Stored = { documentId: string; lastSeq: number };

/** This room's floor is not the stored one any more: it lies behind, or has been founded again under another epoch. */
export class FloorElsewhere extends PassingFault {}

/**
 * The floor of a shop: written by servers alone, inside of the transaction that stores the rows, and told to nobody
 * before that transaction has been committed. Its readers speak only of themselves. Other processes write it too: under
 * the shop's lock each first takes in what the others have written, so that no two write from different beginnings.
 */
export class FloorRoom implements Room {
  readonly connections = new Set<Connection>();
  private readonly readers = new Readers(
    () => this.floor,
    () => this.now(),
  );
  /** In the document already, but not yet committed as far as is known here. */
  private staged: { update: Uint8Array<ArrayBuffer> | undefined } | undefined;
  /** Written by others, taken in here, and not yet told. */
  private untold: Uint8Array[] = [];
  private readonly asking = new Map<Connection, Uint8Array>();
  private weighed = { seq: -1, isOutgrown: false };

  constructor(
    readonly address: FloorAddress,
    private stored: Stored,
    private floor: FloorDocument,
    private tail: LogTail,
    private readonly now: () => InstantMs,
    readonly presence: PresenceBoard,
    /** Whoever may no longer read what the ledger holds up to this number is to be silenced first. */
    private readonly aboutToTell: (seq: number) => void,
  ) {}

  get head(): DocumentNews {
    return { documentId: this.stored.documentId, epoch: this.address.epoch, seq: this.stored.lastSeq };
  }

  get hasPending(): boolean {
    return this.staged !== undefined;
  }

  /** True once a new day has begun and the window of air has not been moved on. */
  get isWindowOver(): boolean {
    return isWindowOver(this.floor, this.now());
  }

  isLogLong(now: InstantMs): boolean {
    return this.tail.isDue(now);
  }

  /** Has it so much history that it is to be founded again; in a quiet moment less is enough. */
  isTooOld(now: InstantMs): boolean {
    return this.isOutgrown || (this.tail.isQuiet(now) && isHeavy(this.floor, this.floor.since().length));
  }

  /** Is there anything that time has made necessary? */
  isDue(now: InstantMs): boolean {
    return this.isWindowOver || this.isOutgrown || this.isLogLong(now);
  }

  /** Makes the log short. To be called while nothing is staged. */
  async compact(): Promise<void> {
    const { documentId, lastSeq: snapshotSeq } = this.stored;
    const { epoch } = this.address;
    const snapshot = { state: this.floor.since(), isWhole: this.floor.same() };
    this.tail.clear(this.now());
    try {
      await storeSnapshot({ documentId, epoch, snapshotSeq, ...snapshot, now: this.now() });
    } catch (error) {
      this.tail.postpone(this.now());
      throw error;
    }
  }

  private get isOutgrown(): boolean {
    const { lastSeq: seq } = this.stored;
    // every value is looked at, so only once for each change
    if (this.weighed.seq !== seq) this.weighed = { seq, isOutgrown: isOutgrown(this.floor) };
    return this.weighed.isOutgrown;
  }

  admit(connection: Connection): void {
    this.connections.add(connection);
    connection.deliverTo({
      frame: (frame) => this.hear(connection, frame),
      closed: () => this.dismiss(connection),
    });
  }

  beat(now: InstantMs): void {
    this.presence.flush(now);
    if (!this.staged) this.readers.beat(now);
  }

  async drain(): Promise<void> {}

  destroy(): void {
    this.floor.destroy();
  }

  /** Takes in what a commit changes, last inside of its transaction. Then either `publish` or `restore` must follow. */
  async stage(tx: Transaction, commit: Commit): Promise<void> {
    const now = this.now();
    // whoever changes the ledger changes the floor with it: one that shows the ledger as it was found lacks nothing
    const isBehind = this.floor.get("meta", "seq") !== commit.fromSeq;
    await this.write(tx, (floor) => floorChanges(tx, floor, commit, now), { isBehind });
  }

  /** Takes in other changes: those that time makes. */
  async write(
    tx: Transaction,
    changes: (floor: FloorDocument) => Promise<FloorEntry[]>,
    { isBehind } = { isBehind: true },
  ): Promise<void> {
    if (this.staged) await this.restore(); // the transaction before this one was given up
    if (isBehind) await this.takeLater(tx);
    const entries = await changes(this.floor);
    this.staged = { update: undefined };
    const update = this.floor.set(entries);
    this.staged = { update };
    if (!update) return;
    const { documentId, lastSeq } = this.stored;
    const { epoch } = this.address;
    const seq = await appendUpdates({ documentId, epoch, updates: [{ update }], now: this.now() }, tx);
    if (seq !== lastSeq + 1) throw new FloorElsewhere(`the log of floor ${documentId} is at ${seq}, not ${lastSeq}`);
  }

  /** The commit stands: tells the readers. */
  publish(): void {
    const update = this.staged?.update;
    this.staged = undefined;
    if (update) this.stored.lastSeq += 1;
    this.tail.add(update ? [update] : [], this.now());
    this.tell([...this.untold, ...(update ? [update] : [])]);
    this.answerAll();
  }

  /** Takes in what others have written since, and tells it. To be called while nothing is staged. */
  async catchUp(): Promise<void> {
    await this.takeLater();
    this.tell(this.untold);
  }

  /**
   * The transaction did not stand, or nobody knows whether it did: what the log has is the truth. Readers have heard
   * nothing of it; they get everything once more, in case it stood after all.
   */
  async restore(): Promise<void> {
    const stored = await readDocument(this.stored.documentId);
    if (stored.epoch !== this.address.epoch) throw new FloorElsewhere(`floor ${stored.documentId} was founded again`);
    const broken = this.floor;
    this.floor = FloorDocument.of(updatesOf(stored));
    this.tail = LogTail.of(stored.updates, this.now());
    this.stored = { documentId: stored.documentId, lastSeq: stored.lastSeq };
    this.staged = undefined;
    broken.destroy();
    this.tell([this.floor.since()]);
    this.answerAll();
  }

  private async takeLater(tx?: Transaction): Promise<void> {
    const { epoch } = this.address;
    const later = await updatesAfter({ ...this.stored, epoch }, tx);
    if (later.epoch !== epoch) throw new FloorElsewhere(`floor ${this.stored.documentId} was founded again`);
    this.floor.apply(later.updates);
    this.stored.lastSeq = later.lastSeq;
    this.untold.push(...later.updates);
    this.tail.add(later.updates, this.now());
  }

  private tell(updates: readonly Uint8Array[]): void {
    this.untold = [];
    if (updates.length === 0) return;
    this.aboutToTell(this.floor.get("meta", "seq") as number);
    this.readers.tell(updates);
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
    if (!this.readers.answer(connection, stateVector)) connection.close(closeCode.malformed);
  }

  private answerAll(): void {
    const asking = [...this.asking];
    this.asking.clear();
    for (const [connection, stateVector] of asking) this.answer(connection, stateVector);
  }

  /** A device may send back what it kept of the floor, which says nothing new; anything else is an attempt to write. */
  private refuse(connection: Connection, update: Uint8Array): void {
    if (isEmptyUpdate(update)) return;
    if (this.floor.contains(update)) return;
    figures.updateRefused("read-only");
    connection.close(closeCode.noRight);
  }

  private dismiss(connection: Connection): void {
    this.connections.delete(connection);
    this.readers.leave(connection);
    this.asking.delete(connection);
    this.presence.leave(connection);
  }
}

export const updatesOf = (stored: {
  snapshot?: Uint8Array;
  updates: readonly { update: Uint8Array }[];
}): Uint8Array[] => [...(stored.snapshot ? [stored.snapshot] : []), ...stored.updates.map(({ update }) => update)];
