/**
 * What was done on this device and has not been ruled on. An intent counts as kept only after the database says so;
 * it leaves when the server accepts it, or when the person has read why it was refused. Signing out leaves it alone.
 */
import { accept, type Result, refuse } from "~/core/result";
import type { Intent } from "~/core/shop/intent";
import type { Refusal } from "~/core/shop/refusal";
import type { Stamp } from "./clock";
import { type KeptIntent, keep, QueueDatabase, rewrite, type WaitingIntent } from "./queue-database";

export type QueueOwner = { shopId: string; memberId: string; deviceId: string };

/** Not kept on this device: the screen says so at once and offers the file. */
export type NotKept = { kind: "not-kept"; because: "device-full" | "store-failed"; detail: string };

export type RulingAnswer =
  /** `seq`: the ledger number of what happened; absent when it was already so. */
  { intentId: string; verdict: "accepted"; seq?: number } | { intentId: string; verdict: "refused"; refusal: Refusal };

export type Draft = Omit<Intent, "deviceSeq" | "deviceId" | "memberId" | "deviceAt" | "offsetMs" | "offsetUncertainMs">;

type QueueParts = {
  database?: QueueDatabase;
  /** Tells the other tabs of this device that the queue is different now. */
  channel?: Pick<BroadcastChannel, "postMessage" | "close"> & { onmessage: BroadcastChannel["onmessage"] };
};

export class IntentQueue {
  private rows: readonly KeptIntent[] = [];
  private readonly listeners = new Set<() => void>();
  private readonly lost: Intent[] = [];
  private failed: NotKept | undefined;
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
    if (queue.channel) queue.channel.onmessage = () => queue.read();
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

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Keeps an intent; it has its number and is on the disk when this resolves. */
  async add(draft: Draft, { expectedOffsetMs, ...stamp }: Stamp): Promise<Result<Intent, NotKept>> {
    const { memberId, deviceId } = this.owner;
    let intent: Intent = { ...draft, ...stamp, memberId, deviceId, deviceSeq: 1 };
    try {
      await this.database.use((connection) =>
        keep(connection, this.deviceKey, (deviceSeq) => {
          intent = { ...intent, deviceSeq };
          const waiting = { owner: this.ownerKey, state: "waiting" as const, intent };
          return expectedOffsetMs === undefined ? waiting : { ...waiting, expectedOffsetMs };
        }),
      );
    } catch (error) {
      this.lost.push(intent);
      this.failed = notKept(error);
      this.tell();
      return refuse(this.failed);
    }
    this.failed = undefined;
    await this.changed();
    return accept(intent);
  }

  /** Replaces waiting intents by the same ones with their clocks settled, before they travel. */
  async settle(rows: readonly WaitingIntent[]): Promise<void> {
    if (rows.length > 0) await this.write({ put: [...rows] });
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

  /** The person has read why. */
  async dismiss(intentId: string): Promise<void> {
    const row = this.rows.find((kept) => kept.state === "refused" && kept.intent.intentId === intentId);
    if (row) await this.write({ remove: [row.place] });
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

  /** All that has not been accepted, for carrying it away by hand when this device cannot keep or send it. */
  asFile(): File {
    const content = { ...this.owner, waiting: this.rows, notKept: this.lost };
    return new File([JSON.stringify(content, null, 2)], "tackfree-unsent.json", { type: "application/json" });
  }

  /** Looks again: another tab may have added or sent something. */
  async read(): Promise<void> {
    this.rows = await this.database.use((connection) => connection.getAllFromIndex("kept", "byOwner", this.ownerKey));
    this.tell();
  }

  async close(): Promise<void> {
    this.channel?.close();
    await this.database.close();
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

  private async write(changes: Parameters<typeof rewrite>[1]): Promise<void> {
    await this.database.use((connection) => rewrite(connection, changes));
    await this.changed();
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }

  private async changed(): Promise<void> {
    await this.read();
    this.channel?.postMessage("changed");
  }
}

function notKept(error: unknown): NotKept {
  const isFull = error instanceof DOMException && error.name === "QuotaExceededError";
  return { kind: "not-kept", because: isFull ? "device-full" : "store-failed", detail: String(error) };
}
