/** What the process that rules and the rooms that show it have to do with each other: offered to the API. */
import { type InstantMs, minuteMs } from "~/core/units";
import type { Presence } from "~/core/wire";
import { database, type Transaction } from "~/data/db";
import {
  type Applied,
  type Batch,
  type BatchOutcome,
  commitBatch,
  commitEntrance,
  type EntranceAsked,
  type LedgerHooks,
} from "~/data/ledger";
import { LedgerPage } from "~/data/ledger-page";
import type { Answer } from "~/data/rulings";
import { windowMoved } from "./floor-contents";
import { floorHead, loadFloor } from "./floor-load";
import { type FloorAddress, FloorRoom } from "./floor-room";
import { loadNotes } from "./notes-load";
import type { NotesRoom } from "./notes-room";
import { NotThere, Rooms } from "./rooms";
import { type LookUp, Sockets } from "./sockets";
import { Turns } from "./turns";

export type Alongside = (tx: Transaction, memberId: string) => Promise<void>;

export type HubSettings = { now: () => InstantMs; lookUp: LookUp; report: (error: unknown) => void };

const windowRetryMs = minuteMs;
/** All air of two weeks is read again, and every film weighed. */
const windowTimes = { maxWait: 15_000, timeout: 60_000 };

export class Hub {
  readonly rooms: Rooms<FloorRoom | NotesRoom>;
  readonly sockets: Sockets;
  /** A shop's transactions run one after the other anyway; waiting here costs no database connection. */
  private readonly turns = new Turns();
  private readonly windowTriedAt = new Map<string, InstantMs>();

  constructor(private readonly settings: HubSettings) {
    const { now, lookUp, report } = settings;
    const broken = (room: NotesRoom, error: unknown) => {
      report(error);
      this.rooms.forget(room.address, room);
    };
    this.rooms = new Rooms<FloorRoom | NotesRoom>(
      (address) => (address.kind === "floor" ? loadFloor(address, now) : loadNotes(address, now, broken)),
      now,
      report,
    );
    this.sockets = new Sockets(this.rooms, lookUp, now, report);
  }

  /** Judges a batch, and shows everybody what it changed once that is stored for good. */
  commit(batch: Batch): Promise<BatchOutcome> {
    return this.onFloor(batch.shopId, (floor) => commitBatch(batch, this.hooksOf(floor)));
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
  async sessionsChanged(whose: { sessionId: string } | { memberId: string }): Promise<void> {
    const isMeant = ({ sessionId, memberId }: { sessionId: string; memberId?: string }) =>
      "sessionId" in whose ? sessionId === whose.sessionId : memberId === whose.memberId;
    this.sockets.hold(isMeant);
    await this.sockets.recheck(({ access }) => isMeant(access));
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
    for (const room of this.rooms.all()) {
      if (room instanceof FloorRoom && room.isWindowOver) this.moveWindow(room.address.shopId, now);
    }
  }

  /** Waits until everything that has been begun is stored; nothing new is begun. */
  async drain(): Promise<void> {
    await this.turns.shut();
    await this.rooms.shut();
  }

  private hooksOf(floor: FloorRoom): LedgerHooks {
    return {
      onApplied: (tx, applied) => floor.stage(tx, applied),
      published: (applied) => this.publish(floor, applied),
    };
  }

  private publish(floor: FloorRoom, { rowsAfter }: Applied): void {
    const members = new Set(rowsAfter.flatMap(({ table, row }) => (table === "member" ? [row.id] : [])));
    const isMeant = ({ memberId }: { memberId?: string }) => memberId !== undefined && members.has(memberId);
    // whose membership has just ended is not told of it by the floor
    if (members.size > 0) this.sockets.hold(isMeant);
    floor.publish();
    if (members.size > 0) void this.sockets.recheck(({ access }) => isMeant(access));
  }

  /** Once, and once more after a while where it failed. */
  private moveWindow(shopId: string, now: InstantMs): void {
    if (now - (this.windowTriedAt.get(shopId) ?? Number.NEGATIVE_INFINITY) < windowRetryMs) return;
    this.windowTriedAt.set(shopId, now);
    void this.onFloor(shopId, (floor) => this.windowMoved(floor)).catch(this.settings.report);
  }

  private async windowMoved(floor: FloorRoom): Promise<void> {
    const { shopId } = floor.address;
    const now = this.settings.now();
    await database().$transaction(async (tx) => {
      await LedgerPage.open(tx, shopId, now); // the shop's lock: the rows stand still
      await floor.write(tx, (document) => windowMoved(tx, document, { shopId, now }));
    }, windowTimes);
    floor.publish();
  }

  /** Runs with the floor of a shop in memory, alone; afterwards the floor is what has been stored, whatever happened. */
  private onFloor<Result>(shopId: string, work: (floor: FloorRoom) => Promise<Result>): Promise<Result> {
    return this.turns.take(shopId, async () => {
      const address = await this.addressOf(shopId);
      try {
        return await this.rooms.use(address, (room) => this.settled(room as FloorRoom, work));
      } catch (error) {
        if (!(error instanceof NotThere)) throw error;
        // its load has just founded it again, under another name
        const again = await this.addressOf(shopId);
        return this.rooms.use(again, (room) => this.settled(room as FloorRoom, work));
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

  private async settled<Result>(floor: FloorRoom, work: (floor: FloorRoom) => Promise<Result>): Promise<Result> {
    try {
      return await work(floor);
    } finally {
      if (floor.hasPending) {
        await floor.restore().catch((error: unknown) => {
          this.settings.report(error);
          this.rooms.forget(floor.address, floor);
        });
      }
    }
  }
}
