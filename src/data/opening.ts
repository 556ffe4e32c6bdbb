/** What a batch of a device is judged by, asked in one question: each costs the way to the database and back. */
import type { Need } from "~/core/shop/facts";
import type { Transaction } from "./db";
import type { QueueRow } from "./device-queues";
import { type KnownId, whereKnown } from "./known-ids";
import { type Found, foundOf, questionsOf, selectionsOf } from "./load";
import type { StoredRuling } from "./rulings";

export type OpeningAsked = {
  deviceId: string;
  intentIds: readonly string[];
  /** Ids that may be those of something in the shop. */
  ids: readonly string[];
  /** What can be asked for together with other things. */
  needs: readonly Need[];
};

export type Opening = {
  queues: QueueRow[];
  /** Of those intents that had been judged before. */
  rulings: StoredRuling[];
  known: KnownId[];
  rows: Found[];
};

/** Where rows that were asked for have the number of their selection. */
const parts = { queue: -1, ruling: -2, known: -3 } as const;

const question = `
  SELECT ${parts.queue} AS "part", 0 AS "createdSeq", to_jsonb(found) AS "row" FROM "deviceQueue" found
  WHERE "shopId" = $1::uuid AND "deviceId" = $2::uuid
  UNION ALL
  SELECT ${parts.ruling}, 0, to_jsonb(found) FROM "ruling" found WHERE "shopId" = $1::uuid AND "intentId" = ANY($3::uuid[])
  UNION ALL
  SELECT ${parts.known}, 0, to_jsonb(found) FROM (${whereKnown("$4::uuid[]")}) found`;

type Row = { part: number; createdSeq: number; row: Record<string, unknown> };

/** To be asked under the shop's lock. */
export async function openingOf(
  tx: Transaction,
  shopId: string,
  { deviceId, intentIds, ids, needs }: OpeningAsked,
): Promise<Opening> {
  const values: unknown[] = [shopId, deviceId, [...intentIds], [...ids]];
  const selections = selectionsOf(needs);
  const sql = [question, ...questionsOf(selections, values)].join(" UNION ALL ");
  const rows = await tx.$queryRawUnsafe<Row[]>(sql, ...values);
  const of = <Value>(part: number) => rows.flatMap((found) => (found.part === part ? [found.row as Value] : []));
  return {
    queues: of<QueueRow>(parts.queue),
    rulings: of<StoredRuling>(parts.ruling),
    known: of<KnownId>(parts.known),
    rows: foundOf(
      selections,
      rows.filter(({ part }) => part >= 0),
    ),
  };
}
