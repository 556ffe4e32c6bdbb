import type { Transaction } from "./db";
import type { StoredRuling } from "./rulings";

type Queue = { lastDeviceSeq: number; lastMadeAt?: number };
type QueueRow = { memberId: string; lastDeviceSeq: number; lastMadeAt: number | null };

/**
 * How far each member's queue on one device has been judged.
 *
 * A number beyond the next one is a gap: something was lost on the way, and the device sends again from there. A number
 * that was judged before, under an intent that was not, is taken: a device that was set up anew counts from 1 again, and
 * an intent that a bug of the server kept from being judged comes back later. The queue keeps the highest number.
 */
export class DeviceQueues {
  private readonly queues = new Map<string, Queue>();

  private constructor(
    private readonly tx: Transaction,
    private readonly shopId: string,
    private readonly deviceId: string,
    stored: readonly QueueRow[],
  ) {
    for (const { memberId, lastDeviceSeq, lastMadeAt } of stored) {
      this.queues.set(memberId, { lastDeviceSeq, ...(lastMadeAt ? { lastMadeAt: Number(lastMadeAt) } : {}) });
    }
  }

  /** The queues of one device as they stand, and which of these intents have a ruling already. */
  static async open(
    tx: Transaction,
    { shopId, deviceId, intentIds }: { shopId: string; deviceId: string; intentIds: readonly string[] },
  ): Promise<{ queues: DeviceQueues; rulingById: Map<string, StoredRuling> }> {
    const found = await tx.$queryRaw<({ queue: QueueRow } | { ruling: StoredRuling })[]>`
      SELECT to_jsonb(q) AS "queue", NULL::jsonb AS "ruling" FROM "deviceQueue" q
      WHERE q."shopId" = ${shopId}::uuid AND q."deviceId" = ${deviceId}::uuid
      UNION ALL
      SELECT NULL, to_jsonb(r) FROM "ruling" r
      WHERE r."shopId" = ${shopId}::uuid AND r."intentId" = ANY(${[...intentIds]}::uuid[])`;
    const rows = found.flatMap((one) => ("queue" in one && one.queue ? [one.queue] : []));
    const rulings = found.flatMap((one) => ("ruling" in one && one.ruling ? [one.ruling] : []));
    return {
      queues: new DeviceQueues(tx, shopId, deviceId, rows),
      rulingById: new Map(rulings.map((ruling) => [ruling.intentId, ruling])),
    };
  }

  private of(memberId: string): Queue {
    return this.queues.get(memberId) ?? { lastDeviceSeq: 0 };
  }

  /** The number from which the device must send again, if this one does not follow. */
  gapBefore(memberId: string, deviceSeq: number): number | undefined {
    const { lastDeviceSeq } = this.of(memberId);
    return deviceSeq > lastDeviceSeq + 1 ? lastDeviceSeq + 1 : undefined;
  }

  /** When the intent before this one was made; an intent that comes late is not held to what was made after it. */
  madeBefore(memberId: string, deviceSeq: number): number | undefined {
    const { lastDeviceSeq, lastMadeAt } = this.of(memberId);
    return deviceSeq > lastDeviceSeq ? lastMadeAt : undefined;
  }

  advance(memberId: string, deviceSeq: number, madeAt?: number): void {
    const { lastDeviceSeq, lastMadeAt } = this.of(memberId);
    const latest = Math.max(madeAt ?? 0, lastMadeAt ?? 0);
    this.queues.set(memberId, {
      lastDeviceSeq: Math.max(lastDeviceSeq, deviceSeq),
      ...(latest > 0 ? { lastMadeAt: latest } : {}),
    });
  }

  async store(heardAt: number): Promise<void> {
    const { shopId, deviceId } = this;
    const rows = [...this.queues].map(([memberId, queue]) => ({ shopId, deviceId, memberId, ...queue }));
    await this.tx.$executeRaw`
      WITH kept AS (
        INSERT INTO "deviceQueue" SELECT * FROM json_populate_recordset(NULL::"deviceQueue", ${JSON.stringify(rows)}::json)
        ON CONFLICT ("shopId", "deviceId", "memberId") DO UPDATE
          SET "lastDeviceSeq" = excluded."lastDeviceSeq", "lastMadeAt" = excluded."lastMadeAt"
      )
      UPDATE "device" SET "lastHeardAt" = ${heardAt}::bigint WHERE "shopId" = ${shopId}::uuid AND "id" = ${deviceId}::uuid`;
  }
}
