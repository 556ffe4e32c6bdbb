import { database } from "./db";

/** `rows`: updates that no snapshot holds yet; entries, for the ledger. `bytes`: what is stored for all of them. */
export type LogSize = { kind: "floor" | "notes" | "ledger"; documents: number; rows: number; bytes: number };

/** How much the logs hold, by kind and for all shops together; from their heads, so that it costs the same every year. */
export async function logSizes(): Promise<LogSize[]> {
  const found = await database().$queryRaw<(Record<"documents" | "rows" | "bytes", bigint> & Pick<LogSize, "kind">)[]>`
    SELECT "kind", count(*) AS "documents", coalesce(sum("lastSeq" - "snapshotSeq"), 0)::bigint AS "rows",
      coalesce(sum("bytes"::bigint), 0)::bigint AS "bytes"
    FROM "sharedDocument" GROUP BY "kind"
    UNION ALL
    SELECT 'ledger', count(*), coalesce(sum("seq"), 0)::bigint, pg_total_relation_size('"ledgerEntry"') FROM "ledgerHead"`;
  return found.map(({ kind, documents, rows, bytes }) => ({
    kind,
    documents: Number(documents),
    rows: Number(rows),
    bytes: Number(bytes),
  }));
}
