import * as Y from "yjs";
import type { InstantMs } from "~/core/units";
import { closeCode, limits, type RoomAddress } from "~/core/wire";
import type { DocumentLog, Writer } from "~/data/document-log";
import { storeSnapshot, updatesAfter, writersOf } from "~/data/documents";
import { PassingFault } from "~/data/faults";
import type { Connection } from "./connection";
import { type Frame, isEmptyUpdate, step1Frame, step2Frame, updateFrame } from "./messages";
import type { DocumentNews } from "./neighbours";
import type { Fault, NotesDocument } from "./notes-document";
import type { PresenceBoard } from "./presence";
import type { Room } from "./rooms";

export type NotesAddress = Extract<RoomAddress, { kind: "notes" }>;
type Stored = { documentId: string; epoch: number; lastSeq: number; snapshotSeq: number };
type Hand = { memberId: string; deviceId: string };
type Accepted = { update: Uint8Array<ArrayBuffer>; hand: Hand; writers: ReadonlySet<number> };
type Said = { connection: Connection; update: Uint8Array<ArrayBuffer> };

export type NotesSettings = {
  log: DocumentLog;
  now: () => InstantMs;
  presence: PresenceBoard;
  /** Something has been stored: whoever else has these notes open is to be told. */
  stored: (news: DocumentNews) => void;
  /** The log cannot be trusted any more: the room is to be dropped. */
  broken: (room: NotesRoom, error: unknown) => void;
};

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
 * writer included: to hear one's own words is to know that they are kept. Other processes store updates of the same notes;
 * one that is refused here may rest on such, so it is judged again when what they have stored has been taken in.
 */
export class NotesRoom implements Room {
  readonly connections = new Set<Connection>();
  private readonly synced = new Set<Connection>();
  private accepted: Accepted[] = [];
  private storing: readonly Accepted[] = [];
  /** Refused, as long as it is not known that nothing is missing here. */
  private doubted: Said[] = [];
  private isBehind = false;
  private isEnding = false;
  private working: Promise<void> | undefined;
  private readonly gaps = new Map<Connection, number>();
  /** Whose client ids are whose: nobody may write on in another's name. */
  private readonly handByClient = new Map<number, Hand>();

  constructor(
    readonly address: NotesAddress,
    private readonly stored: Stored,
    private readonly notes: NotesDocument,
    writers: readonly Writer[],
    private readonly settings: NotesSettings,
  ) {
    for (const { clientId, ...hand } of writers) this.handByClient.set(clientId, hand);
  }

  get presence(): PresenceBoard {
    return this.settings.presence;
  }

  get hasPending(): boolean {
    return this.working !== undefined;
  }

  get head(): DocumentNews {
    const { documentId, epoch, lastSeq } = this.stored;
    return { documentId, epoch, seq: lastSeq };
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

  beat(now: InstantMs): void {
    this.presence.flush(now);
  }

  /** Others have stored something. */
  catchUp(): void {
    this.isBehind = true;
    this.working ??= this.work();
  }

  async drain(): Promise<void> {
    this.isEnding = true;
    await this.working;
  }

  destroy(): void {
    this.isEnding = true;
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
    else if (this.isEnding) connection.close(closeCode.restarting);
    // behind what is in doubt nothing is judged: it may rest on it
    else if (this.doubted.length > 0) this.doubt({ connection, update });
    else {
      const fault = this.judge({ connection, update }, { isSure: false });
      if (fault === "gap" || fault === "not-yours") this.doubt({ connection, update });
      else if (fault) this.refuse(connection, fault);
    }
  }

  /**
   * Accepts an update, or says what is wrong with it.
   *
   * @param isSure that a client id which is nobody's here is nobody's elsewhere either
   */
  private judge({ connection, update }: Said, { isSure }: { isSure: boolean }): Fault | undefined {
    const hand = handOf(connection);
    if (!hand) return undefined; // no longer a member's, and nothing is owed
    const mayWriteAs = (client: number) => {
      const known = this.handByClient.get(client);
      return known ? isSame(known, hand) : isSure;
    };
    const tried = this.notes.try(update, mayWriteAs);
    if (typeof tried === "string") {
      this.notes.retry([...this.storing, ...this.accepted].map((one) => one.update));
      return tried;
    }
    const writers = new Set([...tried.writers].filter((client) => !this.handByClient.has(client)));
    for (const client of writers) this.handByClient.set(client, hand);
    this.accepted.push({ update, hand, writers });
    this.working ??= this.work();
    return undefined;
  }

  private doubt(said: Said): void {
    this.doubted.push(said);
    this.catchUp();
  }

  private refuse(connection: Connection, fault: Fault): void {
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

  /** Stores what has been accepted, together, and takes in what others have stored; what comes meanwhile waits. */
  private async work(): Promise<void> {
    try {
      while (this.accepted.length > 0 || this.isBehind) {
        if (this.isBehind) await this.takeLater();
        else await this.store();
      }
    } catch (error) {
      this.settings.broken(this, error);
    } finally {
      this.working = undefined;
    }
  }

  private async takeLater(): Promise<void> {
    this.isBehind = false;
    const doubted = this.doubted.length;
    this.tell(await this.later());
    const again = this.doubted.slice(0, doubted);
    this.doubted = this.doubted.slice(doubted);
    for (const said of again) {
      const fault = this.judge(said, { isSure: true });
      if (fault) this.refuse(said.connection, fault);
    }
    if (this.doubted.length > 0) this.isBehind = true;
  }

  /** What others have stored, taken in and not yet told. */
  private async later(): Promise<Uint8Array[]> {
    const { documentId, epoch } = this.stored;
    const later = await updatesAfter(this.stored);
    if (later.epoch !== epoch) throw new PassingFault(`notes ${documentId} were founded again`);
    if (later.updates.length > 0) {
      const writers = await writersOf(documentId);
      for (const { clientId, ...hand } of writers) this.handByClient.set(clientId, hand);
    }
    this.notes.applyOfOthers(later.updates);
    this.stored.lastSeq = later.lastSeq;
    return later.updates;
  }

  private async store(): Promise<void> {
    this.storing = this.accepted;
    this.accepted = [];
    const { documentId, epoch, lastSeq } = this.stored;
    const { storing, settings } = this;
    const writers = storing.flatMap(({ hand, writers: clients }) =>
      [...clients].map((clientId) => ({ clientId, ...hand })),
    );
    const updates = storing.map(({ update, hand }) => ({ update, memberId: hand.memberId }));
    const appended = await settings.log.append({ documentId, epoch, updates, writers, now: settings.now() });
    if (appended === "refused") throw new PassingFault(`notes ${documentId} are held otherwise elsewhere`);
    const { firstSeq } = appended;
    if (firstSeq === lastSeq + 1) {
      this.notes.apply(updates.map(({ update }) => update));
      this.stored.lastSeq += updates.length;
      this.tell(updates.map(({ update }) => update));
    } else {
      // others came first; what is read now holds these here as well
      this.tell(await this.later());
    }
    this.storing = [];
    settings.stored(this.head);
    await this.compact();
  }

  private tell(updates: readonly Uint8Array[]): void {
    if (updates.length === 0) return;
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

function handOf({ access: { memberId, deviceId } }: Connection): Hand | undefined {
  return memberId === undefined ? undefined : { memberId, deviceId };
}

const isSame = (one: Hand, other: Hand): boolean => one.memberId === other.memberId && one.deviceId === other.deviceId;
