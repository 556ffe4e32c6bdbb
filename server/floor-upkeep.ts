import { type InstantMs, minuteMs } from "~/core/units";
import { closeCode } from "~/core/wire";
import { database } from "~/data/db";
import { LedgerPage } from "~/data/ledger-page";
import { windowMoved } from "./floor-contents";
import { foundFloorAgain } from "./floor-load";
import { type FloorAddress, FloorElsewhere, type FloorRoom } from "./floor-room";
import type { DocumentNews } from "./neighbours";

export type FloorUpkeepParts = {
  now: () => InstantMs;
  /** Runs when it is the shop's turn, alone with its floor. */
  onFloor: (shopId: string, work: (floor: FloorRoom) => Promise<void>) => Promise<void>;
  moved: (news: DocumentNews) => void;
  forget: (floor: FloorRoom, code: number) => void;
  report: (error: unknown) => void;
};

const retryMs = minuteMs;
/** All air of two weeks is read again, and every film weighed. */
const windowTimes = { maxWait: 15_000, timeout: 60_000 };

/**
 * What time does to floors: a day's air falls out of the window, the log grows long, history outgrows what the floor says.
 * Each is seen to when it is the shop's turn, by whichever process notices first; the others find it done.
 */
export class FloorUpkeep {
  private readonly atWork = new Set<string>();
  private readonly failedAt = new Map<string, InstantMs>();

  constructor(private readonly parts: FloorUpkeepParts) {}

  beat(floors: readonly FloorRoom[]): void {
    const now = this.parts.now();
    for (const floor of floors) {
      const { shopId } = floor.address;
      const isResting = now - (this.failedAt.get(shopId) ?? Number.NEGATIVE_INFINITY) < retryMs;
      if (!this.atWork.has(shopId) && !isResting && floor.isDue(now)) void this.seeTo(shopId);
    }
  }

  private async seeTo(shopId: string): Promise<void> {
    this.atWork.add(shopId);
    try {
      await this.parts.onFloor(shopId, (floor) => this.tend(floor));
      this.failedAt.delete(shopId);
    } catch (error) {
      this.failedAt.set(shopId, this.parts.now());
      this.parts.report(error);
    } finally {
      this.atWork.delete(shopId);
    }
  }

  private async tend(floor: FloorRoom): Promise<void> {
    const now = this.parts.now();
    if (floor.isWindowOver) await this.moveWindow(floor);
    if (floor.isTooOld(now)) await this.foundAgain(floor);
    else if (floor.isLogLong(now)) await floor.compact();
  }

  private async moveWindow(floor: FloorRoom): Promise<void> {
    const { shopId } = floor.address;
    const now = this.parts.now();
    await database().$transaction(async (tx) => {
      await LedgerPage.open(tx, shopId, now, { isMuch: true }); // the shop's lock: the rows stand still
      await floor.write(tx, (document) => windowMoved(tx, document, { shopId, now }));
    }, windowTimes);
    floor.publish();
    this.parts.moved(floor.head);
  }

  /** Its readers are hung up on with the code for another epoch; they ask which it is, and read the new floor. */
  private async foundAgain(floor: FloorRoom): Promise<void> {
    const { documentId } = floor.head;
    const epoch = await foundFloorAgain(floor.address as FloorAddress, documentId, this.parts.now());
    if (epoch === undefined) throw new FloorElsewhere(`floor ${documentId} was founded again`);
    this.parts.forget(floor, closeCode.otherEpoch);
    this.parts.moved({ documentId, epoch, seq: 0 });
  }
}
