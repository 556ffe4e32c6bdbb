import type { InstantMs } from "~/core/units";
import { closeCode, type RoomAddress } from "~/core/wire";
import { limits } from "~/core/wire-limits";
import type { DocumentLog, Writer } from "~/data/document-log";
import { updatesAfter, writersOf } from "~/data/documents";
import { PassingFault } from "~/data/faults";
import type { Connection } from "./connection";
import { type Hand, Hands, handOf } from "./hands";
import type { LogTail } from "./log-tail";
import { type Frame, isEmptyUpdate, step1Frame } from "./messages";
import { figures } from "./metrics/figures";
import type { DocumentNews } from "./neighbours";
import type { Fault, NotesDocument } from "./notes-document";
import { FoundAgain, keepNotesShort } from "./notes-upkeep";
import { Readers } from "./readers";
import type { Room } from "./rooms";

export type NotesAddress = Extract<RoomAddress, { kind: "notes" }>;
type Stored = { documentId: string; epoch: number; lastSeq: number };
type Accepted = { update: Uint8Array<ArrayBuffer>; hand: Hand; writers: ReadonlySet<number> };
type Said = { connection: Connection; update: Uint8Array<ArrayBuffer> };

export type NotesSettings = {
  log: DocumentLog;
  now: () => InstantMs;
  /** Something has been stored: whoever else has these notes open is to be told. */
  stored: (news: DocumentNews) => void;
  /** The log cannot be trusted any more: the room is to be dropped. */
  broken: (room: NotesRoom, error: unknown) => void;
  /** These notes have been founded again under another epoch: their readers are to be sent there. */
  foundAgain: (room: NotesRoom, epoch: number) => void;
  report: (error: unknown) => void;
};

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
  private readonly readers = new Readers(
    () => this.notes,
    () => this.settings.now(),
  );
  private accepted: Accepted[] = [];
  private storing: readonly Accepted[] = [];
  /** Refused, as long as it is not known that nothing is missing here. */
  private doubted: Said[] = [];
  private isBehind = false;
  private isEnding = false;
  private working: Promise<void> | undefined;
  private readonly gaps = new WeakMap<Connection, number>();
  private readonly hands: Hands;

  constructor(
    readonly address: NotesAddress,
    private readonly stored: Stored,
    private readonly notes: NotesDocument,
    writers: readonly Writer[],
    private readonly tail: LogTail,
    private readonly settings: NotesSettings,
  ) {
    this.hands = new Hands(writers);
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
    this.readers.beat(now);
    if (this.tail.isDue(now)) this.working ??= this.work();
  }

  /** Others have stored something. */
  catchUp(): void {
    this.isBehind = true;
    this.working ??= this.work();
  }

  /**
   * Takes what a device wrote in an epoch that is over, as it is carried over.
   *
   * @returns whether it was new here, once it is stored or refused
   */
  async takeCarried(connection: Connection, update: Uint8Array<ArrayBuffer>): Promise<boolean> {
    if (this.notes.contains(update)) return false;
    this.take(connection, update);
    await this.working;
    return true;
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
      case "query-presence":
        // passed over: who hears a client id before it has written here could write in its name
        return;
      default:
        if (!isEmptyUpdate(frame.update)) this.take(connection, new Uint8Array(frame.update));
    }
  }

  private answer(connection: Connection, stateVector: Uint8Array): void {
    if (!this.readers.answer(connection, stateVector)) connection.close(closeCode.malformed);
  }

  private take(connection: Connection, update: Uint8Array<ArrayBuffer>): void {
    const { mode, memberId } = connection.access;
    if (mode === "read" || memberId === undefined) this.refuseReader(connection, update);
    else if (this.isEnding) connection.close(closeCode.restarting);
    // a device names all that was ever struck each time that it answers, and that is no news
    else if (this.notes.contains(update)) return;
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
    const mayWriteAs = (client: number) => this.hands.isOf(client, hand) ?? isSure;
    const tried = this.notes.try(update, mayWriteAs);
    if (typeof tried === "string") {
      this.notes.retry([...this.storing, ...this.accepted].map((one) => one.update));
      return tried;
    }
    const writers = this.hands.claim(tried.writers, hand);
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
    figures.updateRefused(fault);
    if (fault !== "gap") connection.close(codeOf[fault]);
    else if (gaps >= limits.gaps) connection.close(closeCode.malformed);
    else {
      this.gaps.set(connection, gaps);
      connection.send(step1Frame(this.notes.stateVector()));
    }
  }

  private refuseReader(connection: Connection, update: Uint8Array): void {
    if (this.notes.contains(update)) return;
    figures.updateRefused("read-only");
    connection.close(closeCode.noRight);
  }

  /** Stores what has been accepted, together, and takes in what others have stored; what comes meanwhile waits. */
  private async work(): Promise<void> {
    try {
      for (;;) {
        if (this.isBehind) await this.takeLater();
        else if (this.tail.isDue(this.settings.now()) && !this.isEnding) await this.keepShort();
        else if (this.accepted.length > 0) await this.store();
        else break;
      }
    } catch (error) {
      if (error instanceof FoundAgain) this.endFor(error.epoch);
      else this.settings.broken(this, error);
    } finally {
      this.working = undefined;
    }
  }

  private async takeLater(): Promise<void> {
    this.isBehind = false;
    const doubted = this.doubted.length;
    this.readers.tell(await this.later());
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
    if (later.epoch !== epoch) throw new FoundAgain(later.epoch);
    if (later.updates.length > 0) this.hands.learn(await writersOf(documentId));
    this.notes.applyOfOthers(later.updates);
    this.tail.add(later.updates, this.settings.now());
    this.stored.lastSeq = later.lastSeq;
    return later.updates;
  }

  private async store(): Promise<void> {
    this.storing = this.accepted.splice(0, limits.updatesPerFlush);
    const { documentId, epoch, lastSeq } = this.stored;
    const { storing, settings } = this;
    const writers = storing.flatMap(({ hand, writers: clients }) =>
      [...clients].map((clientId) => ({ clientId, ...hand })),
    );
    const updates = storing.map(({ update, hand }) => ({ update, memberId: hand.memberId }));
    const bytes = updates.map(({ update }) => update);
    const askedAt = performance.now();
    const appended = await settings.log.append({ documentId, epoch, updates, writers, now: settings.now() });
    const storedAt = performance.now();
    figures.committed("notes", storedAt - askedAt);
    if (appended === "refused") {
      this.readers.tell(await this.later());
      throw new PassingFault(`notes ${documentId} are held otherwise elsewhere`);
    }
    const { firstSeq } = appended;
    if (firstSeq === lastSeq + 1) {
      this.notes.apply(bytes);
      this.stored.lastSeq += updates.length;
      this.tail.add(bytes, settings.now());
      this.readers.tell(bytes);
    } else {
      // others came first; what is read now holds these here as well
      this.readers.tell(await this.later());
    }
    figures.told("notes", performance.now() - storedAt);
    this.storing = [];
    settings.stored(this.head);
  }

  /** A snapshot that fails is late, and nothing worse: all of it is in the log. */
  private async keepShort(): Promise<void> {
    const { settings, tail } = this;
    tail.clear(settings.now());
    try {
      const upkeep = await keepNotesShort(this.notes, this.stored, settings.now());
      if (upkeep === "behind") this.isBehind = true;
      else if (upkeep !== "kept") this.endFor(upkeep.foundAgain);
    } catch (error) {
      tail.postpone(settings.now());
      settings.report(error);
    }
  }

  /** What is not stored yet its writers still have: they come back by the old name, and are asked for it. */
  private endFor(epoch: number): void {
    [this.accepted, this.doubted, this.isBehind] = [[], [], false];
    this.settings.foundAgain(this, epoch);
  }

  private dismiss(connection: Connection): void {
    this.connections.delete(connection);
    this.readers.leave(connection);
  }
}
