/** What documents cost on the disk: a board that is moved about for years, and a real shop's floor. */
import * as Y from "yjs";
import { floorParts } from "~/core/shop/floor";
import { database } from "~/data/db";
import { appendUpdates, dropEpochsBefore, ensureDocument, foundAgain, readDocument } from "~/data/documents";
import { demoShopId, seedDemo } from "../../seed/demo";
import { FloorDocument } from "../../server/floor-document";
import { updatesOf } from "../../server/floor-room";
import { isHeavy, isOutgrown } from "../../server/floor-weight";
import { ShopServer } from "../server/support/shop-server";
import { until } from "../soak/support/crew";
import { freshShop, newId } from "../support/database";
import { boardOf, pieceEntry } from "./memory";

const [pieces, moves] = [10_000, 100];

export type MovedBoard = { storedBytes: number; loadMs: number; foundings: number };

/** Ten thousand pieces, each moved a hundred times round the board; founded again whenever a server would. */
export async function measureMovedBoard(): Promise<MovedBoard> {
  const { shopId } = await freshShop();
  const { documentId } = await ensureDocument({ shopId, kind: "floor", subjectId: newId() });
  let floor = boardOf(pieces);
  let epoch = await foundOf(documentId, 1, floor);
  let foundings = 0;
  for (let round = 1; round <= moves; round += 1) {
    const update = floor.set(Array.from({ length: pieces }, (_, number) => pieceEntry(number, round)));
    if (update) await appendUpdates({ documentId, epoch, updates: [{ update }], now: round });
    if (!isOutgrown(floor)) continue;
    floor.destroy();
    floor = FloorDocument.of([]);
    floor.set(Array.from({ length: pieces }, (_, number) => pieceEntry(number, round)));
    epoch = await foundOf(documentId, epoch, floor);
    foundings += 1;
  }
  // the quiet minute that comes after all moving
  if (isHeavy(floor, floor.since().length)) {
    const fresh = FloorDocument.of([]);
    fresh.set(Array.from({ length: pieces }, (_, number) => pieceEntry(number, moves)));
    await foundOf(documentId, epoch, fresh);
    foundings += 1;
  }
  const startedAt = performance.now();
  const loaded = FloorDocument.of(updatesOf(await readDocument(documentId)));
  const loadMs = performance.now() - startedAt;
  if (loaded.valueCount !== pieces) throw new Error("a piece is missing");
  for (const one of [floor, loaded]) one.destroy();
  return { storedBytes: await storedBytes(documentId), loadMs, foundings };
}

async function foundOf(documentId: string, epoch: number, floor: FloorDocument): Promise<number> {
  const founded = await foundAgain({ documentId, epoch, state: floor.since() });
  if (founded === undefined) throw new Error("somebody else founded it");
  await dropEpochsBefore(documentId, founded);
  return founded;
}

/** As they are written, before PostgreSQL packs them. */
async function storedBytes(documentId: string): Promise<number> {
  const [{ bytes } = { bytes: 0n }] = await database().$queryRaw<{ bytes: bigint }[]>`
    SELECT coalesce(length("snapshot"), 0) + coalesce((
      SELECT sum(length("update")) FROM "documentUpdate" WHERE "documentId" = d."id"), 0) AS bytes
    FROM "sharedDocument" d WHERE d."id" = ${documentId}::uuid`;
  return Number(bytes);
}

/** A little more than the minute after which nobody is taken to write just now. */
const quietMs = 61_000;

export type FloorWeight = { storedBytes: number; jsonBytes: number };

/** The floor of the invented shop after its week, as it is stored in a quiet moment, beside what it says as JSON. */
export async function weighDemoFloor(now: number): Promise<FloorWeight> {
  await seedDemo({ now });
  const server = await ShopServer.start();
  server.now = now;
  const epoch = (await server.hub.floorEpoch(demoShopId)) as number;
  // a floor that nobody has open would leave the memory in the same minute in which it would be made short
  await server.hub.rooms.use({ kind: "floor", shopId: demoShopId, epoch }, () => quietMoment(server));
  await server.stop();
  return weighFloor(demoShopId);
}

const mostMinutes = 5;

/** Lets minutes go by until the log is short: a new day in one of them is a change, after which it is quiet only later. */
async function quietMoment(server: ShopServer): Promise<void> {
  const isShort = async () => {
    const stored = await database().sharedDocument.findFirstOrThrow({ where: { subjectId: demoShopId } });
    return stored.lastSeq === stored.snapshotSeq;
  };
  for (let minute = 1; ; minute += 1) {
    server.now += quietMs;
    try {
      await until(isShort, 10_000);
      return;
    } catch (error) {
      if (minute === mostMinutes) throw new Error(`the floor never became quiet: ${server.faults[0] ?? error}`);
    }
  }
}

async function weighFloor(shopId: string): Promise<FloorWeight> {
  const { documentId } = await ensureDocument({ shopId, kind: "floor", subjectId: shopId });
  const document = new Y.Doc();
  for (const update of updatesOf(await readDocument(documentId))) Y.applyUpdate(document, update);
  const json = Object.fromEntries(floorParts.map((part) => [part, document.getMap(part).toJSON()]));
  return { storedBytes: await storedBytes(documentId), jsonBytes: Buffer.byteLength(JSON.stringify(json)) };
}
