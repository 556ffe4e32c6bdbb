import type { InstantMs } from "~/core/units";
import { closeCode } from "~/core/wire";
import { database } from "~/data/db";
import {
  appendUpdates,
  type DocumentHead,
  dropEpochsBefore,
  ensureDocument,
  foundAgain,
  readDocument,
  updatesAfter,
} from "~/data/documents";
import { LedgerPage } from "~/data/ledger-page";
import { shopById } from "~/data/members";
import { wholeFloor } from "./floor-contents";
import { FloorDocument } from "./floor-document";
import { type FloorAddress, updatesOf } from "./floor-room";
import { isHeavy, isOutgrown } from "./floor-weight";
import { LogTail } from "./log-tail";
import type { DocumentNews } from "./neighbours";
import { NotThere } from "./rooms";

export type LoadedFloor = { stored: { documentId: string; lastSeq: number }; floor: FloorDocument; tail: LogTail };

const nameOf = (shopId: string) => ({ shopId, kind: "floor", subjectId: shopId }) as const;

/** The floor's document; its epoch is part of the room's name. Undefined where there is no such shop. */
export async function floorHead(shopId: string): Promise<DocumentHead | undefined> {
  return (await shopById(shopId)) && (await ensureDocument(nameOf(shopId)));
}

/**
 * Reads a floor from its log, and holds it against the rows: what differs is written. That founds a floor that is new,
 * and heals one that was left behind by whatever wrote rows without this server.
 *
 * @throws NotThere where there is no such shop, or its floor has been founded again
 */
export async function loadFloor(
  address: FloorAddress,
  now: () => InstantMs,
  foundedAgain: (news: DocumentNews) => void,
): Promise<LoadedFloor> {
  const head = await floorHead(address.shopId);
  if (!head) throw new NotThere(closeCode.noSuchRoom);
  if (head.epoch !== address.epoch) throw new NotThere(closeCode.otherEpoch);
  const stored = await readDocument(head.documentId);
  if (stored.epoch !== address.epoch) throw new NotThere(closeCode.otherEpoch);
  const floor = FloorDocument.of(updatesOf(stored));
  const { documentId } = stored;
  if (isOutgrown(floor) || isHeavy(floor, floor.since().length)) {
    const epoch = await foundFloorAgain(address, documentId, now());
    if (epoch !== undefined) foundedAgain({ documentId, epoch, seq: 0 });
    throw new NotThere(closeCode.otherEpoch);
  }
  const tail = LogTail.of(stored.updates, now());
  const { lastSeq, written } = await holdAgainstRows(floor, address, stored, now());
  tail.add(written, now());
  return { stored: { documentId, lastSeq }, floor, tail };
}

/** Under the shop's lock, so that no commit falls between reading the rows and writing the difference. */
function holdAgainstRows(
  floor: FloorDocument,
  { shopId, epoch }: FloorAddress,
  { documentId, lastSeq }: DocumentHead,
  now: InstantMs,
): Promise<{ lastSeq: number; written: Uint8Array[] }> {
  return underLock(shopId, now, async (page) => {
    const later = await updatesAfter({ documentId, epoch, lastSeq }, page.tx);
    if (later.epoch !== epoch) throw new NotThere(closeCode.otherEpoch);
    floor.apply(later.updates);
    const whole = await wholeFloor(page.tx, { shopId, epoch, seq: page.seq, now });
    const update = floor.set(floor.wholly(whole));
    if (!update) return { lastSeq: later.lastSeq, written: later.updates };
    const seq = await appendUpdates({ documentId, epoch, updates: [{ update }], now }, page.tx);
    if (seq !== later.lastSeq + 1) throw new Error(`floor ${documentId} is at ${seq}, not after ${later.lastSeq}`);
    return { lastSeq: seq, written: [...later.updates, update] };
  });
}

/**
 * Builds a floor from the rows under the next epoch, and drops what the old one was made of.
 *
 * @returns the new epoch; undefined where somebody else was quicker
 */
export async function foundFloorAgain(
  { shopId, epoch }: FloorAddress,
  documentId: string,
  now: InstantMs,
): Promise<number | undefined> {
  const founded = await underLock(shopId, now, async (page) => {
    const fresh = FloorDocument.of([]);
    fresh.set(await wholeFloor(page.tx, { shopId, epoch: epoch + 1, seq: page.seq, now }));
    const state = fresh.since();
    fresh.destroy();
    return foundAgain({ documentId, epoch, state }, page.tx);
  });
  // what was written over years takes its time to go, and the shop need not wait for that
  if (founded !== undefined) await dropEpochsBefore(documentId, founded);
  return founded;
}

/** The longest is the first load of a shop with years of air. */
const transactionTimes = { maxWait: 15_000, timeout: 60_000 };

const underLock = <Result>(
  shopId: string,
  now: InstantMs,
  work: (page: LedgerPage) => Promise<Result>,
): Promise<Result> =>
  database().$transaction(async (tx) => {
    const page = await LedgerPage.open(tx, shopId, now, { isMuch: true });
    if (!page) throw new NotThere(closeCode.noSuchRoom);
    return work(page);
  }, transactionTimes);
