/** What the process that rules and the rooms that show it have to do with each other: offered to the API. */
import { type InstantMs, minuteMs } from "~/core/units";
import { closeCode, type Presence } from "~/core/wire";
import { database, type Transaction } from "~/data/db";
import { DocumentLog } from "~/data/document-log";
import {
  type Applied,
  type Batch,
  type BatchOutcome,
  commitBatches,
  commitEntrance,
  type EntranceAsked,
  type LedgerHooks,
} from "~/data/ledger";
import { LedgerPage } from "~/data/ledger-page";
import type { Answer } from "~/data/rulings";
import { windowMoved } from "./floor-contents";
import { floorHead, loadFloor } from "./floor-load";
import { type FloorAddress, FloorElsewhere, FloorRoom } from "./floor-room";
import { House } from "./house";
import { Neighbours, type Whose } from "./neighbours";
import { loadNotes } from "./notes-load";
import type { NotesAddress, NotesRoom } from "./notes-room";
import { PresenceBoard } from "./presence";
import { RightsWatch } from "./rights-watch";
import { NotThere, nameOf, Rooms } from "./rooms";
import { type LookUp, Sockets } from "./sockets";
import { Together } from "./together";
import { Turns } from "./turns";

export type Alongside = (tx: Transaction, memberId: string) => Promise<void>;

export type HubSettings = {
  now: () => InstantMs;
  lookUp: LookUp;
  report: (error: unknown) => void;
  /** False: the disk is not waited for when notes are stored. For measuring alone. */
  isDurable?: boolean;
};

const windowRetryMs = minuteMs;
/** All air of two weeks is read again, and every film weighed. */
const windowTimes = { maxWait: 15_000, timeout: 60_000 };

export class Hub {
  readonly rooms: Rooms<FloorRoom | NotesRoom>;
  readonly sockets: Sockets;
  readonly neighbours: Neighbours;
  private readonly log: DocumentLog;
  private readonly rights: RightsWatch;
  /** A shop's transactions run one after the other anyway; waiting here costs no database connection. */
  private readonly turns = new Turns();
  private readonly together: Together;
  private readonly windowTriedAt = new Map<string, InstantMs>();
  private isEnding = false;

  constructor(private readonly settings: HubSettings) {
    const { now, lookUp, report, isDurable } = settings;
    this.log = new DocumentLog(isDurable);
    this.rooms = new Rooms<FloorRoom | NotesRoom>((address) => this.load(address), now, report);
    this.sockets = new Sockets(this.rooms, lookUp, now, report);
    this.rights = new RightsWatch(this.sockets);
    const { rooms, sockets, rights } = this;
    const behind = (floor: FloorRoom, seq: number) => this.catchUp(floor, seq);
    this.neighbours = new Neighbours(new House({ rooms, sockets, rights, now, behind }), report);
    this.together = new Together((shopId, take) =>
      this.onFloor(shopId, (floor) => commitBatches(take(), this.hooksOf(floor))),
    );
  }

  /** Begins to speak with the other processes on this database. */
  open(): Promise<void> {
    return this.neighbours.open();
  }

  /** Judges a batch, and shows everybody what it changed once that is stored for good. */
  commit(batch: Batch): Promise<BatchOutcome> {
    return this.together.commit(batch);
  }

  /** Lets somebody into a shop, or founds one, whose floor is made when it is first opened. */
  async enter(asked: EntranceAsked, alongside?: Alongside): Promise<Answer> {
    if (!(await floorHead(asked.shopId))) return commitEntrance(asked, { alongside });
    return this.onFloor(asked.shopId, (floor) => commitEntrance(asked, { ...this.hooksOf(floor), alongside }));
  }

  /** The epoch in the name of a shop's floor; undefined where there is no such shop. */
  async floorEpoch(shopId: string): Promise<number | undefined> {
    return (await floorHead(shopId))?.epoch;
  }

  /** To be called when a session has ended, or a member's sessions stand differently: silences their sockets at once. */
  async sessionsChanged(whose: Whose): Promise<void> {
    this.neighbours.sessionsChanged(whose);
    await this.sockets.doubtThoseOf(whose);
  }

  /** Who has the floor open, and where they are looking. */
  presence(shopId: string): Presence[] {
    return this.rooms.all().flatMap((room) => (room.address.shopId === shopId ? room.presence.all() : []));
  }

  /** To be called every now and then, at least once a second. */
  beat(): void {
    const now = this.settings.now();
    this.sockets.beat(now);
    this.rooms.beat(now);
    this.rights.forgetAllBut(this.sockets.shopIds());
    for (const room of this.rooms.all()) {
      if (room instanceof FloorRoom && room.isWindowOver) this.moveWindow(room.address.shopId, now);
    }
  }

  /** Waits until everything that has been begun is stored; nothing new is begun. */
  async drain(): Promise<void> {
    this.isEnding = true;
    await this.turns.shut();
    await this.rooms.shut();
    await this.sockets.settled();
  }

  /** When the last socket is gone: tells the others, and lets go of the database. */
  async close(): Promise<void> {
    this.rooms.beat(this.settings.now());
    await this.neighbours.close();
    await this.log.close();
  }

  private load(address: FloorAddress | NotesAddress): Promise<FloorRoom | NotesRoom> {
    const name = nameOf(address);
    const presence = new PresenceBoard(this.settings.now(), (news) =>
      this.neighbours.sayPresences([{ room: name, news }]),
    );
    this.neighbours.roomOpened(name);
    return address.kind === "floor" ? this.loadFloor(address, presence) : this.loadNotes(address, presence);
  }

  private async loadFloor(address: FloorAddress, presence: PresenceBoard): Promise<FloorRoom> {
    const { now } = this.settings;
    const { stored, floor } = await loadFloor(address, now, this.neighbours.documentMoved);
    const aboutToTell = (seq: number) => this.rights.reaches(address.shopId, seq);
    const room = new FloorRoom(address, stored, floor, now, presence, aboutToTell);
    this.neighbours.documentMoved(room.head);
    return room;
  }

  private loadNotes(address: NotesAddress, presence: PresenceBoard): Promise<NotesRoom> {
    const { log, settings, neighbours } = this;
    const broken = (room: NotesRoom, error: unknown) => {
      settings.report(error);
      this.rooms.forget(room.address, room);
    };
    return loadNotes(address, { log, now: settings.now, presence, stored: neighbours.documentMoved, broken });
  }

  private hooksOf(floor: FloorRoom): LedgerHooks {
    return {
      onApplied: (tx, applied) => floor.stage(tx, applied),
      published: (applied) => this.publish(floor, applied),
    };
  }

  private publish(floor: FloorRoom, { shopId, fromSeq, seq, rowsAfter }: Applied): void {
    const memberIds = [...new Set(rowsAfter.flatMap(({ table, row }) => (table === "member" ? [row.id] : [])))];
    const news = { shopId, fromSeq, seq, memberIds };
    this.rights.take(news);
    floor.publish();
    this.neighbours.ledgerMoved(news);
    this.neighbours.documentMoved(floor.head);
  }

  /** Another process has written on this floor. */
  private catchUp(floor: FloorRoom, seq: number): void {
    if (this.isEnding) return; // its readers are on their way to another process
    void this.turns
      .take(floor.address.shopId, async () => {
        if (floor.head.seq < seq && this.rooms.has(floor)) await this.settled(floor, () => floor.catchUp());
      })
      .catch(this.settings.report);
  }

  /** Once, and once more after a while where it failed. */
  private moveWindow(shopId: string, now: InstantMs): void {
    if (this.isEnding || now - (this.windowTriedAt.get(shopId) ?? Number.NEGATIVE_INFINITY) < windowRetryMs) return;
    this.windowTriedAt.set(shopId, now);
    void this.onFloor(shopId, (floor) => this.windowMoved(floor)).catch(this.settings.report);
  }

  private async windowMoved(floor: FloorRoom): Promise<void> {
    const { shopId } = floor.address;
    const now = this.settings.now();
    await database().$transaction(async (tx) => {
      await LedgerPage.open(tx, shopId, now, { isMuch: true }); // the shop's lock: the rows stand still
      await floor.write(tx, (document) => windowMoved(tx, document, { shopId, now }));
    }, windowTimes);
    floor.publish();
    this.neighbours.documentMoved(floor.head);
  }

  /** Runs with the floor of a shop in memory, alone; afterwards the floor is what has been stored, whatever happened. */
  private onFloor<Result>(shopId: string, work: (floor: FloorRoom) => Promise<Result>): Promise<Result> {
    const once = async () =>
      this.rooms.use(await this.addressOf(shopId), (room) =>
        this.settled(room as FloorRoom, () => work(room as FloorRoom)),
      );
    return this.turns.take(shopId, async () => {
      try {
        return await once();
      } catch (error) {
        // it has been founded again, under another name, or another process had written on it meanwhile
        if (error instanceof NotThere || error instanceof FloorElsewhere) return once();
        throw error;
      }
    });
  }

  private async addressOf(shopId: string): Promise<FloorAddress> {
    const live = this.rooms.all().find((room) => room instanceof FloorRoom && room.address.shopId === shopId);
    if (live) return live.address as FloorAddress;
    const epoch = await this.floorEpoch(shopId);
    if (epoch === undefined) throw new Error(`no shop ${shopId}`);
    return { kind: "floor", shopId, epoch };
  }

  private async settled<Result>(floor: FloorRoom, work: () => Promise<Result>): Promise<Result> {
    try {
      return await work();
    } catch (error) {
      if (error instanceof FloorElsewhere && !floor.hasPending) this.dropFloor(floor, error);
      throw error;
    } finally {
      if (floor.hasPending) await floor.restore().catch((error: unknown) => this.dropFloor(floor, error));
    }
  }

  private dropFloor(floor: FloorRoom, error: unknown): void {
    const isElsewhere = error instanceof FloorElsewhere;
    if (!isElsewhere) this.settings.report(error);
    this.rooms.forget(floor.address, floor, isElsewhere ? closeCode.otherEpoch : closeCode.databaseAway);
  }
}
