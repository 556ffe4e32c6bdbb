/**
 * Everything that this device knows for one signed-in member, as one store for the screens: the floor with what is
 * pending laid over it, the queue, the connection, the clock.
 */
import type { Result } from "~/core/result";
import type { InstantMs } from "~/core/units";
import { browserClock, type DeviceClock } from "./clock";
import { Delivery, type DeliveryParts, type DeliveryState, type IntentSender, NotSignedIn } from "./delivery";
import { dropCopy } from "./device-database";
import { epochOnDevice, FloorCopy, floorCopyName } from "./floor-copy";
import { idMaker } from "./ids";
import { IntentQueue, type QueueOwner } from "./intent-queue";
import { LastDelivery, type PassLink } from "./last-delivery";
import { sendAgain } from "./mend";
import type { NotKept } from "./not-kept";
import type { NotesCopy } from "./notes-copy";
import { OpenNotes } from "./open-notes";
import { type LaidFloor, type OptimisticFloor, optimisticFloor, type Pending } from "./optimistic";
import { browserTab, type OwnerTab } from "./owner-tab";
import type { Ended } from "./pass-database";
import { type Propose, proposer } from "./propose";
import type { KeptIntent } from "./queue-database";
import type { Connection, LinkParts } from "./room-link";
import { isSameList } from "./same-list";
import { dropCopiesOf } from "./session";
import { type TakeBack, takerBack } from "./take-back";
import type { UnsentIntent } from "./unsent-file";

/** What the device asks of the server; the screens' client provides it. */
export type ServerLink = PassLink & {
  send: IntentSender;
  serverTime: () => Promise<InstantMs>;
  floorEpoch: () => Promise<number>;
};

export type DeviceSession = QueueOwner & {
  isSharedTablet: boolean;
  /** As the server last said; absent when opened without signal. */
  floorEpoch?: number;
};

export type DeviceSnapshot = Pick<OptimisticFloor, "facts" | "pendingRows" | "verdictByIntentId"> & {
  /** The ledger number that this device has seen; 0 before the floor ever arrived. */
  seq: number;
  /** When the facts last became others: what they say of now holds from here on. */
  factsSinceAt: InstantMs;
  kept: readonly KeptIntent[];
  connection: Connection;
  heardAt: InstantMs | undefined;
  delivery: DeliveryState;
  /** Why this device could not keep the last thing that was done. */
  notKept: NotKept | undefined;
  /** What could not be kept and lives as long as this page. */
  lost: readonly UnsentIntent[];
  /** That the membership has ended, and what was delivered after it. */
  ended: Ended | undefined;
};

export type StoreParts = Partial<Omit<LinkParts, "now">> &
  Partial<Pick<DeliveryParts, "later">> & {
    tab?: OwnerTab;
    clock?: DeviceClock;
    queue?: IntentQueue;
    /** Calls when the signal or the person is back; returns how to stop. */
    onWake?: (run: () => void) => () => void;
  };

/** Epochs count from 1. A phone that holds no floor and has no signal opens all the same, and asks when it can. */
const unknownEpoch = 0;

const wakeInBrowser = (run: () => void) => {
  const ifVisible = () => {
    if (document.visibilityState === "visible") run();
  };
  window.addEventListener("online", run);
  document.addEventListener("visibilitychange", ifVisible);
  return () => {
    window.removeEventListener("online", run);
    document.removeEventListener("visibilitychange", ifVisible);
  };
};

export class DeviceStore {
  readonly propose: Propose;
  /** Takes back what this member did, here or, asked of the server, anywhere. */
  readonly takeBack: TakeBack;
  /** Ids for what the screens make; from the corrected clock. */
  readonly newId: () => string;
  private readonly delivery: Delivery;
  private readonly tab: OwnerTab;
  private readonly notes: OpenNotes;
  private readonly lastDelivery: LastDelivery;
  private readonly stops: (() => void)[];
  private readonly listeners = new Set<() => void>();
  private readonly presenceListeners = new Set<() => void>();
  private settling: (Pending & { seq: number })[] = [];
  private snapshot: DeviceSnapshot | undefined;
  /** Grows with every change of the floor: its facts are one object that changes. */
  private floorVersion = 0;
  private laid: { over: readonly unknown[]; floor: LaidFloor; sinceAt: InstantMs } | undefined;
  private closed: Connection | undefined;
  private lookingAt: string | undefined;
  private isEnded = false;

  private constructor(
    private readonly session: DeviceSession,
    private readonly server: ServerLink,
    readonly clock: DeviceClock,
    readonly queue: IntentQueue,
    private floor: FloorCopy,
    private readonly parts: StoreParts,
  ) {
    this.newId = idMaker({ now: () => clock.now() });
    this.lastDelivery = new LastDelivery(queue.owner, server, !session.isSharedTablet && queue.failure === undefined);
    this.tab = parts.tab ?? browserTab(`tackfree-queue:${session.shopId}:${session.memberId}`);
    const linkParts = { ...parts, now: () => clock.now() };
    this.notes = new OpenNotes(session.shopId, linkParts, () => this.hasDatabase);
    this.delivery = new Delivery(queue, {
      send: this.lastDelivery.send,
      clock,
      serverTime: server.serverTime,
      tab: this.tab,
      later: parts.later,
      onAccepted: (accepted) => this.settling.push(...accepted),
      isInContact: () => this.floor.link.connection.state === "live",
    });
    this.propose = proposer({
      clock,
      newId: this.newId,
      queue,
      isSharedTablet: session.isSharedTablet,
      shown: () => ({ ...this.getSnapshot(), pendingCount: queue.waiting.length }),
      flush: () => this.delivery.flush(),
    });
    this.takeBack = takerBack({ queue, propose: this.propose, shown: () => this.getSnapshot() });
    const changed = () => this.changed();
    const { onWake = wakeInBrowser } = parts;
    this.stops = [
      queue.subscribe(changed),
      this.delivery.subscribe(changed),
      this.lastDelivery.subscribe(changed),
      onWake(() => void this.wake()),
      this.tab.onWanted(() => void this.delivery.flush()),
      () => this.tab.end(),
    ];
    this.watchFloor();
  }

  static async open(session: DeviceSession, server: ServerLink, parts: StoreParts = {}): Promise<DeviceStore> {
    const clock = parts.clock ?? browserClock();
    const channel = () => new BroadcastChannel(`tackfree-queue:${session.shopId}:${session.memberId}`);
    const queue = parts.queue ?? (await IntentQueue.open(session, { channel: channel() }));
    const hasDatabase = queue.failure === undefined;
    const epochHere = hasDatabase ? await epochOnDevice(session.shopId) : undefined;
    const epoch = session.floorEpoch ?? epochHere ?? unknownEpoch;
    const floor = new FloorCopy({ shopId: session.shopId, epoch }, { ...parts, now: () => clock.now() });
    const store = new DeviceStore(session, server, clock, queue, floor, parts);
    if (epoch !== unknownEpoch) await floor.open(hasDatabase);
    void store.wake();
    return store;
  }

  getSnapshot = (): DeviceSnapshot => {
    this.snapshot ??= this.look();
    return this.snapshot;
  };

  subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  subscribePresence = (listener: () => void): (() => void) => {
    this.presenceListeners.add(listener);
    return () => this.presenceListeners.delete(listener);
  };

  getPresence = () => this.floor.presence;

  lookAt(subject: string | undefined): void {
    this.lookingAt = subject;
    this.floor.lookAt(subject);
  }

  /** The notes of one piece; whoever opens them ends them. */
  openNotes(pieceId: string): Promise<NotesCopy> {
    return this.notes.of(pieceId);
  }

  /** Refused work once more; `happenedAt`: what a person says of when the first of it was done. */
  async sendAgain(intentIds: readonly string[], happenedAt?: InstantMs): Promise<void> {
    const { queue, clock, newId } = this;
    await sendAgain({ queue, clock, newId, seenSeq: this.floor.facts.seq }, intentIds, happenedAt);
    await this.delivery.flush();
  }

  /** What was saved in a file, or could not be kept before: kept here now, and on its way. */
  async keepSaved(saved: readonly UnsentIntent[]): Promise<Result<number, NotKept>> {
    const kept = await this.queue.addSaved(saved);
    void this.delivery.flush();
    return kept;
  }

  /** The signal or the person is back: connect, and send what waits. */
  async wake(): Promise<void> {
    if (this.isEnded) return;
    const isKnown = this.floor.address.epoch !== unknownEpoch;
    if (isKnown && !this.closed) this.floor.link.reconnect();
    this.notes.reconnect();
    await this.delivery.flush();
    // where it fails the next waking tries again: it is for the day after the last
    if (this.delivery.state.state === "idle") await this.lastDelivery.enrol().catch(() => undefined);
    if (!isKnown && this.delivery.state.state === "idle") await this.findFloor();
    if (this.tab.isOwner && this.delivery.state.state === "idle") await this.notes.deliver().catch(() => undefined);
  }

  /** Stops everything that runs. What is kept stays kept; `wipeDevice` takes the copies away. */
  async end(): Promise<void> {
    this.isEnded = true;
    for (const stop of this.stops) stop();
    this.listeners.clear();
    this.delivery.end();
    await Promise.all([this.floor.end(), this.notes.end()]);
    await this.queue.close();
  }

  private get hasDatabase(): boolean {
    return this.queue.failure === undefined;
  }

  private look(): DeviceSnapshot {
    const { seq } = this.floor.facts;
    this.settling = this.settling.filter((settling) => settling.seq > seq);
    const { floor, sinceAt } = this.lookAtFloor();
    return {
      ...floor,
      seq,
      factsSinceAt: sinceAt,
      kept: this.queue.kept,
      connection: this.closed ?? this.floor.link.connection,
      heardAt: this.floor.link.heardAt,
      delivery: this.delivery.state,
      notKept: this.queue.failure,
      lost: this.queue.lost,
      ended: this.lastDelivery.ended,
    };
  }

  /** The floor with what is pending laid over it; laid anew only when either is different, not whenever the line stutters. */
  private lookAtFloor(): { floor: OptimisticFloor; sinceAt: InstantMs } {
    const { facts } = this.floor;
    const { waiting } = this.queue;
    const over = [facts, this.floorVersion, ...this.settling, "waiting", ...waiting];
    if (this.laid && isSameList(this.laid.over, over)) return this.laid;
    const [factsBefore, versionBefore] = this.laid?.over ?? [];
    const isFloorSame = factsBefore === facts && versionBefore === this.floorVersion;
    const circumstances = {
      seq: facts.seq,
      isSharedTablet: this.session.isSharedTablet,
      settling: this.settling,
      last: this.laid && { laid: this.laid.floor, isFloorSame },
    };
    this.laid = { over, floor: optimisticFloor(facts, waiting, circumstances), sinceAt: this.clock.now() };
    return this.laid;
  }

  private changed(): void {
    this.snapshot = undefined;
    for (const listener of this.listeners) listener();
  }

  private watchFloor(): void {
    this.floor.onChange(() => {
      this.floorVersion += 1;
      this.changed();
    });
    this.floor.onPresence(() => {
      for (const listener of this.presenceListeners) listener();
    });
    this.floor.link.subscribe(() => this.changed());
    this.floor.link.onClosed((because) => {
      if (this.isEnded) return;
      if (because === "other-epoch") void this.openOtherEpoch();
      if (because === "no-right") void this.forgetFloor();
    });
  }

  /** Nothing of the floor is here: asks for its name, if somebody is signed in who may read it. */
  private async findFloor(): Promise<void> {
    try {
      await this.openOtherEpoch();
    } catch (error) {
      if (!(error instanceof NotSignedIn)) throw error;
      await this.lastDelivery.look();
    }
  }

  /** The floor was founded anew: its copy is dropped, the queue stays and is judged against the new one. */
  private async openOtherEpoch(): Promise<void> {
    const epoch = await this.server.floorEpoch();
    // the same again: nothing is gained by knocking at once, the next waking will
    if (epoch === this.floor.address.epoch) return;
    await this.replaceFloor(epoch);
    await this.floor.open(this.hasDatabase);
  }

  /** Whoever has no right to the floor any more keeps no copy of it; what they did is still sent. */
  private async forgetFloor(): Promise<void> {
    this.closed = { state: "closed", because: "no-right" };
    const { address } = this.floor;
    await this.replaceFloor(address.epoch);
    await dropCopy(floorCopyName(address));
    // notes that are still open here go when their page does
    void dropCopiesOf(address.shopId);
    this.changed();
    await this.delivery.flush();
    if (!this.lastDelivery.ended) await this.lastDelivery.look();
  }

  private async replaceFloor(epoch: number): Promise<void> {
    const before = this.floor;
    this.floor = new FloorCopy({ shopId: this.session.shopId, epoch }, { ...this.parts, now: () => this.clock.now() });
    this.floor.lookAt(this.lookingAt);
    this.watchFloor();
    await before.end();
    this.changed();
  }
}
