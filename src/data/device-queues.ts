type Queue = { lastDeviceSeq: number; lastMadeAt?: number };
export type QueueRow = { memberId: string; lastDeviceSeq: number; lastMadeAt: number | null };

/**
 * How far each member's queue on one device has been judged.
 *
 * A number beyond the next one is a gap: something was lost on the way, and the device sends again from there. A number
 * that was judged before, under an intent that was not, is taken: a device that was set up anew counts from 1 again, and
 * an intent that a bug of the server kept from being judged comes back later. The queue keeps the highest number.
 */
export class DeviceQueues {
  private readonly queues = new Map<string, Queue>();

  /** @param stored the queues of this device as they stand */
  constructor(
    private readonly shopId: string,
    private readonly deviceId: string,
    stored: readonly QueueRow[],
  ) {
    for (const { memberId, lastDeviceSeq, lastMadeAt } of stored) {
      this.queues.set(memberId, { lastDeviceSeq, ...(lastMadeAt ? { lastMadeAt: Number(lastMadeAt) } : {}) });
    }
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

  /** As they are to be stored. */
  get rows(): object[] {
    const { shopId, deviceId } = this;
    return [...this.queues].map(([memberId, queue]) => ({ shopId, deviceId, memberId, ...queue }));
  }
}
