import type { InstantMs } from "~/core/units";
import { closeCode } from "~/core/wire";
import { database } from "~/data/db";
import {
  appendUpdates,
  type DocumentHead,
  ensureDocument,
  foundAgain,
  readDocument,
  storeSnapshot,
  updatesAfter,
} from "~/data/documents";
import { LedgerPage } from "~/data/ledger-page";
import { shopById } from "~/data/members";
import { wholeFloor } from "./floor-contents";
import { FloorDocument } from "./floor-document";
import { type FloorAddress, updatesOf } from "./floor-room";
import type { DocumentNews } from "./neighbours";
import { NotThere } from "./rooms";

/** Past this, most of what a phone would load is history, which Yjs never gives back: the floor is founded again. */
const mostHistoryPerValue = 10;
/** Below this nobody notices; a floor of two hundred pieces has some thousand values. */
const leastHistoryWorthIt = 20_000;
const updatesPerSnapshot = 200;

export type LoadedFloor = { stored: { documentId: string; lastSeq: number }; floor: FloorDocument };

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
  if (floor.historySize > leastHistoryWorthIt && floor.historySize > mostHistoryPerValue * floor.valueCount) {
    const epoch = await foundFloorAgain(address, stored, now());
    if (epoch !== undefined) foundedAgain({ documentId: stored.documentId, epoch, seq: 0 });
    throw new NotThere(closeCode.otherEpoch);
  }
  const lastSeq = await holdAgainstRows(floor, address, stored, now());
  if (lastSeq - stored.snapshotSeq >= updatesPerSnapshot) {
    const { documentId, epoch } = stored;
    await storeSnapshot({ documentId, epoch, snapshotSeq: lastSeq, state: floor.since() });
  }
  return { stored: { documentId: stored.documentId, lastSeq }, floor };
}

/** Under the shop's lock, so that no commit falls between reading the rows and writing the difference. */
function holdAgainstRows(
  floor: FloorDocument,
  { shopId, epoch }: FloorAddress,
  { documentId, lastSeq }: DocumentHead,
  now: InstantMs,
): Promise<number> {
  return underLock(shopId, now, async (page) => {
    const later = await updatesAfter({ documentId, epoch, lastSeq }, page.tx);
    if (later.epoch !== epoch) throw new NotThere(closeCode.otherEpoch);
    floor.apply(later.updates);
    const whole = await wholeFloor(page.tx, { shopId, epoch, seq: page.seq, now });
    const update = floor.set(floor.wholly(whole));
    if (!update) return later.lastSeq;
    const seq = await appendUpdates({ documentId, epoch, updates: [{ update }], now }, page.tx);
    if (seq !== later.lastSeq + 1) throw new Error(`floor ${documentId} is at ${seq}, not after ${later.lastSeq}`);
    return seq;
  });
}

const foundFloorAgain = (
  { shopId, epoch }: FloorAddress,
  { documentId }: DocumentHead,
  now: InstantMs,
): Promise<number | undefined> =>
  underLock(shopId, now, async (page) => {
    const fresh = FloorDocument.of([]);
    fresh.set(await wholeFloor(page.tx, { shopId, epoch: epoch + 1, seq: page.seq, now }));
    return foundAgain({ documentId, epoch, state: fresh.since() }, page.tx);
  });

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
