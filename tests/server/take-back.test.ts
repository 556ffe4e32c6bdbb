import { afterAll, expect, test } from "vitest";
import { encodeStateAsUpdate } from "yjs";
import { closeDatabase, database } from "~/data/db";
import { wholeFloor } from "../../server/floor-contents";
import { FloorDocument } from "../../server/floor-document";
import { freshShop, newId, pieceBody } from "../support/database";
import { ShopServer } from "./support/shop-server";

afterAll(closeDatabase);

test("a coat and its rags that were taken back leave every open screen, which then holds what the rows say", async () => {
  const server = await ShopServer.start();
  try {
    const shop = await freshShop();
    const { owner, roomId, shopId } = shop;
    const phone = await server.floor(owner);
    const [piece, coatId, sheetId] = [pieceBody(shop), newId(), newId()];
    const product = { productId: newId(), sheetId, name: "Wiping oil", family: "oil-varnish" };
    await server.accepted(owner, ["add-piece", piece], ["add-product", product]);
    const applied = { startedAt: server.now, endedAt: server.now, by: [owner.memberId], roomId, stance: "done" };
    const coat = { coatId, surfaceId: piece.surfaces[0]?.surfaceId, sheetId, ...applied };
    await server.accepted(owner, ["log-coat", coat]);
    await phone.until(() => phone.rows("coat").length === 1 && phone.rows("task").length > 0);
    const { intentId } = await database().ledgerEntry.findFirstOrThrow({ where: { shopId, kind: "log-coat" } });
    await server.accepted(owner, ["take-back", { intentId }]);
    await phone.until(() => phone.rows("coat").length === 0 && phone.rows("task").length === 0);

    const { seq } = await database().ledgerHead.findUniqueOrThrow({ where: { shopId } });
    const rows = FloorDocument.of([]);
    rows.set(await wholeFloor(database(), { shopId, epoch: 1, seq, now: server.now }));
    const shown = FloorDocument.of([]);
    shown.apply([encodeStateAsUpdate(phone.doc)]);
    for (const part of ["coat", "task", "checkpoint", "surface", "piece"] as const) {
      expect(shown.keys(part).sort(), part).toEqual(rows.keys(part).sort());
    }
  } finally {
    await server.stop();
  }
});
