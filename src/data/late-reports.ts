import type { Row } from "~/core/shop/tables";
import { database } from "./db";
import { rowOf } from "./rows";

/** A report that was delivered after the end of a membership and waits for the owner; `by` made it. */
export type LateReport = { by: string | null } & (
  | { of: "coat"; row: Row<"coat"> }
  | { of: "test"; row: Row<"test"> }
  | { of: "reading"; row: Row<"reading"> }
  | { of: "carry"; row: Row<"roomStay"> }
);

/** All that waits for the owner's word besides hours, which are settled with their week; in the order of the ledger. */
export async function lateReports(shopId: string): Promise<LateReport[]> {
  const waiting = { where: { shopId, needsWord: { not: null } } };
  const [coats, tests, readings, stays] = await Promise.all([
    database().coat.findMany(waiting),
    database().test.findMany(waiting),
    database().reading.findMany(waiting),
    database().roomStay.findMany(waiting),
  ]);
  const found = [
    ...coats.map((stored) => {
      const row = rowOf("coat", stored);
      return { of: "coat" as const, row, by: row.applied?.by[0] ?? null, seq: stored.changedSeq };
    }),
    ...tests.map((stored) => {
      const row = rowOf("test", stored);
      return { of: "test" as const, row, by: row.by, seq: stored.changedSeq };
    }),
    ...readings.map((stored) => ({
      of: "reading" as const,
      row: rowOf("reading", stored),
      by: stored.createdBy,
      seq: stored.changedSeq,
    })),
    ...stays.map((stored) => ({
      of: "carry" as const,
      row: rowOf("roomStay", stored),
      by: stored.createdBy,
      seq: stored.changedSeq,
    })),
  ];
  return found.sort((one, other) => one.seq - other.seq).map(({ seq: _, ...report }): LateReport => report);
}
