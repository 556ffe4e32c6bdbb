import { database } from "./db";

/** How far documents and ledgers have come. */
export type Heads = {
  documents: { documentId: string; epoch: number; seq: number }[];
  ledgers: { shopId: string; seq: number }[];
};

/** The heads of these documents and of these shops' ledgers, in one question. */
export async function headsOf(documentIds: readonly string[], shopIds: readonly string[]): Promise<Heads> {
  const rows = await database().$queryRaw<{ id: string; epoch: number | null; seq: number }[]>`
    SELECT "id", "epoch", "lastSeq" AS "seq" FROM "sharedDocument" WHERE "id" = ANY(${[...documentIds]}::uuid[])
    UNION ALL
    SELECT "shopId", NULL, "seq" FROM "ledgerHead" WHERE "shopId" = ANY(${[...shopIds]}::uuid[])`;
  return {
    documents: rows.flatMap(({ id, epoch, seq }) => (epoch === null ? [] : [{ documentId: id, epoch, seq }])),
    ledgers: rows.flatMap(({ id, epoch, seq }) => (epoch === null ? [{ shopId: id, seq }] : [])),
  };
}
