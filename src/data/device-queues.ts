import type { Transaction } from "./db";

type Queue = { lastDeviceSeq: number; lastMadeAt?: number };

/**
 * How far each member's queue on one device has been judged.
 *
 * A number beyond the next one is a gap: something was lost on the way, and the device sends again from there. A number
 * that was judged before, under an intent that was not, is taken: a device that was set up anew counts from 1 again, and
 * an intent that a bug of the server kept from being judged comes back later. The queue keeps the highest number.
 */
export class DeviceQueues {
  private readonly queues = new Map<string, Queue>();

  constructor(
    private readonly tx: Transaction,
    private readonly shopId: string,
    private readonly deviceId: string,
  ) {}

  private async of(memberId: string): Promise<Queue> {
    const known = this.queues.get(memberId);
    if (known) return known;
    const { shopId, deviceId } = this;
    const stored = await this.tx.deviceQueue.findUnique({
      where: { shopId_deviceId_memberId: { shopId, deviceId, memberId } },
    });
    const queue: Queue = {
      lastDeviceSeq: stored?.lastDeviceSeq ?? 0,
      ...(stored?.lastMadeAt ? { lastMadeAt: Number(stored.lastMadeAt) } : {}),
    };
    this.queues.set(memberId, queue);
    return queue;
  }

  /** The number from which the device must send again, if this one does not follow. */
  async gapBefore(memberId: string, deviceSeq: number): Promise<number | undefined> {
    const { lastDeviceSeq } = await this.of(memberId);
    return deviceSeq > lastDeviceSeq + 1 ? lastDeviceSeq + 1 : undefined;
  }

  /** When the intent before this one was made; an intent that comes late is not held to what was made after it. */
  async madeBefore(memberId: string, deviceSeq: number): Promise<number | undefined> {
    const { lastDeviceSeq, lastMadeAt } = await this.of(memberId);
    return deviceSeq > lastDeviceSeq ? lastMadeAt : undefined;
  }

  async advance(memberId: string, deviceSeq: number, madeAt?: number): Promise<void> {
    const { lastDeviceSeq, lastMadeAt } = await this.of(memberId);
    const latest = Math.max(madeAt ?? 0, lastMadeAt ?? 0);
    this.queues.set(memberId, {
      lastDeviceSeq: Math.max(lastDeviceSeq, deviceSeq),
      ...(latest > 0 ? { lastMadeAt: latest } : {}),
    });
  }

  async store(heardAt: number): Promise<void> {
    const { shopId, deviceId } = this;
    for (const [memberId, { lastDeviceSeq, lastMadeAt }] of this.queues) {
      const known = { lastDeviceSeq, lastMadeAt: lastMadeAt ?? null };
      await this.tx.deviceQueue.upsert({
        where: { shopId_deviceId_memberId: { shopId, deviceId, memberId } },
        create: { shopId, deviceId, memberId, ...known },
        update: known,
      });
    }
    await this.tx.device.updateMany({ where: { shopId, id: deviceId }, data: { lastHeardAt: heardAt } });
  }
}
