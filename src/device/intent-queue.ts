/**
 * What was done on this device and has not been ruled on. An intent counts as kept only after the database says so;
 * it leaves when the server accepts it, or when the person lays it aside after reading why it was refused. Signing out
 * leaves it alone.
 */
import { accept, type Result, refuse } from "~/core/result";
import type { Intent } from "~/core/shop/intent";
import type { Refusal } from "~/core/shop/refusal";
import type { Stamp } from "./clock";
import { type NotKept, notKept } from "./not-kept";
import { type KeptIntent, keep, type NewIntent, QueueDatabase, rewrite, type WaitingIntent } from "./queue-database";
import { setOut, withdraw } from "./setting-out";
import type { UnsentIntent } from "./unsent-file";

export type QueueOwner = { shopId: string; memberId: string; deviceId: string };

export type RulingAnswer =
  /** `seq`: the ledger number of what happened; absent when it was already so. */
  { intentId: string; verdict: "accepted"; seq?: number } | { intentId: string; verdict: "refused"; refusal: Refusal };

export type Draft = Omit<Intent, "deviceSeq" | "deviceId" | "memberId" | "deviceAt" | "offsetMs" | "offsetUncertainMs">;

type QueueParts = {
  database?: QueueDatabase;
  /** Tells the other tabs of this device that the queue is different now. */
  channel?: Pick<BroadcastChannel, "postMessage" | "close"> & { onmessage: BroadcastChannel["onmessage"] };
};

/**
 * The number of what is read back from a file. A number that the server has seen marks an intent that comes late, and such
 * a one is not held to the times of what this device did after it.
 */
const lateDeviceSeq = 1;

export class IntentQueue {
  private rows: readonly KeptIntent[] = [];
  private readonly listeners = new Set<() => void>();
  private unkept: readonly UnsentIntent[] = [];
  private failed: NotKept | undefined;
  private writes = 0;
  private isClosed = false;
  private readonly database: QueueDatabase;
  private readonly channel: QueueParts["channel"];
  private readonly ownerKey: string;
  private readonly deviceKey: string;

  private constructor(
    readonly owner: QueueOwner,
    parts: QueueParts,
  ) {
    this.database = parts.database ?? new QueueDatabase();
    this.channel = parts.channel;
    this.ownerKey = `${owner.shopId}:${owner.memberId}`;
    this.deviceKey = `${this.ownerKey}:${owner.deviceId}`;
  }

  static async open(owner: QueueOwner, parts: QueueParts = {}): Promise<IntentQueue> {
    const queue = new IntentQueue(owner, parts);
    if (queue.channel) queue.channel.onmessage = () => void queue.look();
    queue.database.onLost = () => void queue.look();
    try {
      await queue.read();
      await queue.adopt();
    } catch (error) {
      queue.failed = notKept(error);
    }
    return queue;
  }

  /** Everything kept, in the order in which it was made; a new array whenever it is different. */
  get kept(): readonly KeptIntent[] {
    return this.rows;
  }

  get waiting(): WaitingIntent[] {
    return this.rows.filter((row) => row.state === "waiting");
  }

  /** This device cannot keep anything: said before anybody relies on it. */
  get failure(): NotKept | undefined {
    return this.failed;
  }

  /** What this device could not keep: it lives as long as this page, and nothing of it was sent. */
  get lost(): readonly UnsentIntent[] {
    return this.unkept;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Keeps an intent; it has its number and is on the disk when this resolves. */
  async add(draft: Draft, { expectedOffsetMs, ...stamp }: Stamp): Promise<Result<Intent, NotKept>> {
    const { memberId, deviceId } = this.owner;
    const intent: Intent = { ...draft, ...stamp, memberId, deviceId, deviceSeq: 1 };
    const unsent: UnsentIntent = expectedOffsetMs === undefined ? { intent } : { intent, expectedOffsetMs };
    try {
      const [row] = await this.keepAll([(deviceSeq) => this.rowOf(unsent, deviceSeq)]);
      return accept((row as WaitingIntent).intent);
    } catch (error) {
      this.unkept = [...this.unkept, unsent];
      return refuse(this.fail(error));
    }
  }

  /** There may be room again: keeps what could not be kept, in its order. */
  async keepLost(): Promise<Result<number, NotKept>> {
    const lost = this.unkept;
    try {
      await this.keepAll(lost.map((unsent) => (deviceSeq) => this.rowOf(unsent, deviceSeq)));
    } catch (error) {
      return refuse(this.fail(error));
    }
    this.unkept = this.unkept.filter((unsent) => !lost.includes(unsent));
    this.tell();
    return accept(lost.length);
  }

  /** The person has carried it off in a file, or does not want it. */
  forgetLost(): void {
    this.unkept = [];
    this.tell();
  }

  /** Keeps what was saved in a file, here or on another device of this member; what is here already is not doubled. */
  async addSaved(saved: readonly UnsentIntent[]): Promise<Result<number, NotKept>> {
    try {
      await this.read();
      const here = new Set(this.rows.map(({ intent }) => intent.intentId));
      const fresh = saved.filter(({ intent }) => !here.has(intent.intentId));
      // from wherever it comes, it may have been sent from there
      await this.keepAll(fresh.map((unsent) => () => ({ ...this.rowOf(unsent, lateDeviceSeq), hasTravelled: true })));
      const ids = new Set(saved.map(({ intent }) => intent.intentId));
      this.unkept = this.unkept.filter(({ intent }) => !ids.has(intent.intentId));
      this.tell();
      return accept(fresh.length);
    } catch (error) {
      return refuse(this.fail(error));
    }
  }

  /** Puts mended intents at the end of the line, instead of refused ones; either all of it happens or nothing. */
  async replace(refusedIds: readonly string[], mended: readonly UnsentIntent[]): Promise<Result<number, NotKept>> {
    const places = this.rows.flatMap((row) =>
      row.state === "refused" && refusedIds.includes(row.intent.intentId) ? [row.place] : [],
    );
    try {
      await this.keepAll(
        mended.map((unsent) => (deviceSeq) => this.rowOf(unsent, deviceSeq)),
        places,
      );
      return accept(mended.length);
    } catch (error) {
      return refuse(this.fail(error));
    }
  }

  /** Writes down that these set out, their clocks settled. @returns those that nobody has taken back meanwhile */
  async setOut(rows: readonly WaitingIntent[]): Promise<WaitingIntent[]> {
    const left = await this.database.use((connection) => setOut(connection, rows));
    const places = new Set(left.map(({ place }) => place));
    this.changed(
      left,
      rows.flatMap(({ place }) => (places.has(place) ? [] : [place])),
    );
    return left;
  }

  /** Takes an intent out of the line that never left this device. @returns false where it may have, or is not here */
  async withdraw(intentId: string): Promise<boolean> {
    const asked = { owner: this.ownerKey, deviceKey: this.deviceKey, intentId };
    const withdrawn = await this.database.use((connection) => withdraw(connection, asked));
    if (withdrawn) this.changed(withdrawn.movedUp, [withdrawn.place]);
    return withdrawn !== undefined;
  }

  /** Takes the server's word: accepted ones leave, refused ones stay with their reason. */
  async take(rulings: readonly RulingAnswer[]): Promise<void> {
    const rulingById = new Map(rulings.map((ruling) => [ruling.intentId, ruling]));
    const put: KeptIntent[] = [];
    const remove: number[] = [];
    for (const row of this.waiting) {
      const ruling = rulingById.get(row.intent.intentId);
      if (ruling?.verdict === "accepted") remove.push(row.place);
      if (ruling?.verdict === "refused") put.push({ ...row, state: "refused", refusal: ruling.refusal });
    }
    await this.write({ put, remove });
  }

  /** The person has read why, and lays them aside. */
  async dismiss(...intentIds: string[]): Promise<void> {
    const isMeant = (row: KeptIntent) => row.state === "refused" && intentIds.includes(row.intent.intentId);
    const remove = this.rows.filter(isMeant).map(({ place }) => place);
    if (remove.length > 0) await this.write({ remove });
  }

  /**
   * The server waits for a number that this device no longer has: one of the two lost its memory. The order is what
   * counts, so what waits is numbered anew from there.
   */
  async renumber(fromDeviceSeq: number): Promise<void> {
    const { deviceId } = this.owner;
    const put = this.waiting.map((row, index) => {
      const intent = { ...row.intent, deviceId, deviceSeq: fromDeviceSeq + index };
      return { ...row, intent };
    });
    await this.write({ put, lastDeviceSeq: { key: this.deviceKey, value: fromDeviceSeq + put.length - 1 } });
  }

  /** Looks again: another tab may have added or sent something. */
  async read(): Promise<void> {
    for (;;) {
      const before = this.writes;
      const { rows, lastDeviceSeq } = await this.database.use(async (connection) => ({
        rows: await connection.getAllFromIndex("kept", "byOwner", this.ownerKey),
        lastDeviceSeq: await connection.get("lastDeviceSeq", this.deviceKey),
      }));
      // what was written meanwhile is not in what was read
      if (before !== this.writes) continue;
      const isEmptied = rows.length === 0 && lastDeviceSeq === undefined && this.rows.length > 0;
      if (isEmptied) await this.putBack();
      else this.rows = rows;
      this.tell();
      return;
    }
  }

  async close(): Promise<void> {
    this.isClosed = true;
    this.channel?.close();
    await this.database.close();
  }

  /** The browser threw the store away under an open page, which still has all of it. */
  private async putBack(): Promise<void> {
    const value = Math.max(...this.rows.map(({ intent }) => intent.deviceSeq));
    await this.write({ put: this.rows, lastDeviceSeq: { key: this.deviceKey, value } });
  }

  private async look(): Promise<void> {
    if (this.isClosed) return;
    try {
      await this.read();
      this.failed = undefined;
    } catch (error) {
      if (!this.isClosed) this.fail(error);
    }
  }

  /**
   * A device that was set up anew has another id, and the server takes nothing under the old one: what still waits is
   * numbered in the new device's line.
   */
  private async adopt(): Promise<void> {
    const { deviceId } = this.owner;
    if (this.waiting.every(({ intent }) => intent.deviceId === deviceId)) return;
    const lastDeviceSeq = await this.database.use((connection) => connection.get("lastDeviceSeq", this.deviceKey));
    await this.renumber((lastDeviceSeq ?? 0) + 1);
  }

  private rowOf({ intent, expectedOffsetMs }: UnsentIntent, deviceSeq: number): NewIntent {
    const { memberId, deviceId } = this.owner;
    const waiting = {
      owner: this.ownerKey,
      state: "waiting" as const,
      intent: { ...intent, memberId, deviceId, deviceSeq },
    };
    return expectedOffsetMs === undefined ? waiting : { ...waiting, expectedOffsetMs };
  }

  private async keepAll(make: Parameters<typeof keep>[2], remove: readonly number[] = []): Promise<WaitingIntent[]> {
    const rows = await this.database.use((connection) => keep(connection, this.deviceKey, make, remove));
    this.failed = undefined;
    this.changed(rows, remove);
    return rows;
  }

  private async write(changes: Parameters<typeof rewrite>[1]): Promise<void> {
    await this.database.use((connection) => rewrite(connection, changes));
    this.changed(changes.put ?? [], changes.remove ?? []);
  }

  private fail(error: unknown): NotKept {
    this.failed = notKept(error);
    this.tell();
    return this.failed;
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }

  /** The disk has it; so have the screens now, and the other tabs look. */
  private changed(put: readonly KeptIntent[], remove: readonly number[]): void {
    this.writes += 1;
    const gone = new Set([...remove, ...put.map(({ place }) => place)]);
    this.rows = [...this.rows.filter(({ place }) => !gone.has(place)), ...put].sort((a, b) => a.place - b.place);
    this.tell();
    this.channel?.postMessage("changed");
  }
}
