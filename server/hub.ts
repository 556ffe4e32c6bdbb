/** What the process that rules and the rooms that show it have to do with each other: offered to the API. */
import type { InstantMs } from "~/core/units";
import { closeCode, type Presence } from "~/core/wire";
import type { Transaction } from "~/data/db";
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
import type { Committed } from "~/data/ledger-steps";
import type { Answer } from "~/data/rulings";
import { Crowd, type CrowdLimits } from "./crowd";
import { floorHead, loadFloor } from "./floor-load";
import { type FloorAddress, FloorElsewhere, FloorRoom } from "./floor-room";
import { FloorUpkeep } from "./floor-upkeep";
import { House, type ShopRoom } from "./house";
import { type Log, noLog } from "./log";
import { figures } from "./metrics/figures";
import { type DocumentNews, Neighbours, type Whose } from "./neighbours";
import { loadNotes } from "./notes-load";
import type { NotesAddress, NotesRoom } from "./notes-room";
import { PresenceBoard } from "./presence";
import type { PaceLimits } from "./rate";
import { RightsWatch } from "./rights-watch";
import { NotThere, nameOf, Rooms } from "./rooms";
import { type LookUp, Sockets } from "./sockets";
import { Together } from "./together";
import { Turns } from "./turns";
import { type Via, Witness } from "./witness";

export type Alongside = (tx: Transaction, memberId: string) => Promise<void>;

export type HubSettings = {
  now: () => InstantMs;
  lookUp: LookUp;
  report: (error: unknown) => void;
  /** False: notes are told before they are stored. For measuring alone. */
  isDurable?: boolean;
  /** How many sockets each may have open; for measuring with more than a shop has. */
  crowd?: CrowdLimits;
  /** How fast each may send; for measuring more than people do. */
  pace?: PaceLimits;
  log?: Log;
};

const mostAttempts = 4;

export class Hub {
  readonly rooms: Rooms<ShopRoom>;
  readonly sockets: Sockets;
  readonly neighbours: Neighbours;
  private readonly log: DocumentLog;
  private readonly witness: Witness;
  private readonly rights: RightsWatch;
  /** A shop's transactions run one after the other anyway; waiting here costs no database connection. */
  private readonly turns = new Turns();
  private readonly together: Together;
  private readonly upkeep: FloorUpkeep;
  private isEnding = false;

  constructor(private readonly settings: HubSettings) {
    const { now, lookUp, report, isDurable, crowd, pace, log = noLog() } = settings;
    this.witness = new Witness(log);
    this.log = new DocumentLog(isDurable);
    this.rooms = new Rooms<ShopRoom>((address) => this.load(address), now, report);
    this.sockets = new Sockets(this.rooms, lookUp, now, report, new Crowd(crowd), pace);
    this.rights = new RightsWatch(this.sockets);
    const { rooms, sockets, rights } = this;
    const moved = (floor: FloorRoom, news: DocumentNews, via: Via) => this.catchUp(floor, news, via);
    this.neighbours = new Neighbours(new House({ rooms, sockets, rights, now, moved }), report, log.node);
    this.upkeep = new FloorUpkeep({
      now,
      report,
      onFloor: (shopId, work) => this.onFloor(shopId, work),
      moved: this.neighbours.documentMoved,
      forget: (floor, code) => rooms.forget(floor.address, floor, code),
    });
    this.together = new Together((shopId, take) =>
      this.onFloor(shopId, (floor) => commitBatches(take(), this.hooksOf(floor))),
    );
  }

  /** Begins to speak with the other processes on this database. */
  open(): Promise<void> {
    return this.neighbours.open();
  }

  /** Judges a batch, and shows everybody what it changed once that is stored for good. */
  async commit(batch: Batch): Promise<BatchOutcome> {
    this.witness.received(batch.shopId, batch.envelopes);
    const outcome = await this.together.commit(batch).catch((error: unknown) => {
      this.witness.gaveUp(batch.shopId, batch.envelopes, error);
      throw error;
    });
    for (const _ of outcome.failed) figures.failed();
    return outcome;
  }

  /** Lets somebody into a shop, or founds one, whose floor is made when it is first opened. */
  async enter(asked: EntranceAsked, alongside?: Alongside): Promise<Answer> {
    const { judged } = this.witness;
    this.witness.received(asked.shopId, [asked]);
    if (!(await floorHead(asked.shopId))) {
      const committed = (one: Committed) => void this.witness.committed(one);
      return commitEntrance(asked, { alongside, judged, committed });
    }
    return this.onFloor(asked.shopId, (floor) => commitEntrance(asked, { ...this.hooksOf(floor), alongside }));
  }

  /** The epoch in the name of a shop's floor; undefined where there is no such shop. */
  async floorEpoch(shopId: string): Promise<number | undefined> {
    return (await floorHead(shopId))?.epoch;
  }

  /** How much waits, of each sort of work. */
  waiting(): { batches: number; turns: number; log: number } {
    return { batches: this.together.count, turns: this.turns.count, log: this.log.count };
  }

  /** To be called when a session has ended, or a member's sessions stand differently: silences their sockets at once. */
  async sessionsChanged(whose: Whose): Promise<void> {
    this.neighbours.sessionsChanged(whose);
    await this.sockets.doubtThoseOf(whose);
  }

  /** Who has the floor open, and where they are looking. */
  presence(shopId: string): Presence[] {
    const floors = this.rooms.all().filter((room) => room instanceof FloorRoom && room.address.shopId === shopId);
    return floors.flatMap((floor) => (floor as FloorRoom).presence.all());
  }

  /** To be called every now and then, at least once a second. */
  beat(): void {
    const now = this.settings.now();
    this.sockets.beat(now);
    this.rooms.beat(now);
    this.rights.forgetAllBut(this.sockets.shopIds());
    if (!this.isEnding) this.upkeep.beat(this.rooms.all().filter((room) => room instanceof FloorRoom));
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

  private load(address: FloorAddress | NotesAddress): Promise<ShopRoom> {
    this.neighbours.roomOpened(nameOf(address));
    return address.kind === "floor" ? this.loadFloor(address) : this.loadNotes(address);
  }

  private async loadFloor(address: FloorAddress): Promise<FloorRoom> {
    const { now } = this.settings;
    const presence = new PresenceBoard(now(), (news) =>
      this.neighbours.sayPresences([{ room: nameOf(address), news }]),
    );
    const { stored, floor, tail } = await loadFloor(address, now, this.neighbours.documentMoved);
    const aboutToTell = (seq: number) => this.rights.reaches(address.shopId, seq);
    const room = new FloorRoom(address, stored, floor, tail, now, presence, aboutToTell);
    this.neighbours.documentMoved(room.head);
    return room;
  }

  private loadNotes(address: NotesAddress): Promise<ShopRoom> {
    const { log, rooms, settings, neighbours } = this;
    const { now, report } = settings;
    const broken = (room: ShopRoom, error: unknown) => {
      if (!(error instanceof NotThere)) report(error);
      rooms.forget(room.address, room);
    };
    const foundAgain = (room: NotesRoom, epoch: number) => {
      rooms.forget(room.address, room, closeCode.otherEpoch, `${epoch}`);
      neighbours.documentMoved({ documentId: room.head.documentId, epoch, seq: 0 });
    };
    const stored = neighbours.documentMoved;
    return loadNotes(address, { log, now, stored, broken, foundAgain, report }, (epoch) => ({
      withPresent: (work) => rooms.use({ ...address, epoch }, (room) => work(room as NotesRoom)),
      broken,
    }));
  }

  private hooksOf(floor: FloorRoom): LedgerHooks {
    let intentIds: string[] = [];
    return {
      judged: this.witness.judged,
      onApplied: (tx, applied) => floor.stage(tx, applied),
      committed: (committed) => {
        intentIds = this.witness.committed(committed);
      },
      published: (applied) => this.publish(floor, applied, intentIds),
    };
  }

  private publish(floor: FloorRoom, { shopId, fromSeq, seq, rowsAfter }: Applied, intentIds: readonly string[]): void {
    const committedAt = performance.now();
    const memberIds = [...new Set(rowsAfter.flatMap(({ table, row }) => (table === "member" ? [row.id] : [])))];
    const news = { shopId, fromSeq, seq, memberIds };
    this.rights.take(news);
    floor.publish();
    const tookMs = performance.now() - committedAt;
    this.neighbours.ledgerMoved(news);
    this.neighbours.documentMoved({ ...floor.head, intentIds });
    this.witness.told({ shopId, seq, intentIds, tookMs, count: floor.connections.size });
  }

  /** Another process has written on this floor. */
  private catchUp(floor: FloorRoom, news: DocumentNews, via: Via): void {
    if (this.isEnding) return; // its readers are on their way to another process
    const heardAt = performance.now();
    const { shopId } = floor.address;
    // read already, together with something else
    const isHad = () => floor.head.seq >= news.seq;
    if (isHad()) {
      if (news.intentIds) this.witness.applied(shopId, news, via);
      return;
    }
    void this.turns
      .take(shopId, async () => {
        if (!this.rooms.has(floor)) return;
        if (isHad()) this.witness.applied(shopId, news, via);
        else {
          await this.settled(floor, () => floor.catchUp());
          this.witness.applied(shopId, news, via, performance.now() - heardAt);
        }
      })
      .catch(this.settings.report);
  }

  /** Runs with the floor of a shop in memory, alone; afterwards the floor is what has been stored, whatever happened. */
  private onFloor<Result>(shopId: string, work: (floor: FloorRoom) => Promise<Result>): Promise<Result> {
    const once = async () =>
      this.rooms.use(await this.addressOf(shopId), (room) =>
        this.settled(room as FloorRoom, () => work(room as FloorRoom)),
      );
    return this.turns.take(shopId, async () => {
      for (let attempt = 1; ; attempt += 1) {
        try {
          return await once();
        } catch (error) {
          // it has been founded again, under another name, or another process had written on it meanwhile; or first one
          // of these and then the other
          const isElsewhere = error instanceof NotThere || error instanceof FloorElsewhere;
          if (!isElsewhere || attempt === mostAttempts) throw error;
        }
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
