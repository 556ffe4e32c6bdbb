/** One turn at a shop's ledger, inside of one transaction: locked, written to, closed. */
import { apply, type RowAfter } from "~/core/shop/apply";
import { type Ruling, refused } from "~/core/shop/define";
import type { ShopEvent } from "~/core/shop/event";
import type { Moments } from "~/core/shop/moments";
import type { Row, TableName } from "~/core/shop/tables";
import { announceLongWork, type Transaction } from "./db";
import { LoadedFacts } from "./loaded-facts";
import { findRows } from "./rows";
import { type Answer, type Asked, rulingToKeep } from "./rulings";
import { storeIntent } from "./store-intent";

export type Ask = {
  intentId: string;
  asked: Asked;
  when: Moments;
  deviceId?: string;
  deviceAt?: number;
  offsetMs?: number;
};

export class LedgerPage {
  /** The last number before this page. */
  readonly fromSeq: number;
  readonly facts = new LoadedFacts();
  private readonly after = new Map<string, RowAfter>();
  private readonly written = new Set<string>();

  private constructor(
    readonly tx: Transaction,
    readonly shopId: string,
    private lastSeq: number,
    /** Of everything written in this turn; it never runs backwards from one turn to the next. */
    readonly recordedAt: number,
  ) {
    this.fromSeq = lastSeq;
  }

  /**
   * Waits for its turn. Undefined where there is no such shop.
   *
   * @param isMuch so much is to be worked out that the database may hear nothing for longer than it usually allows
   */
  static async open(
    tx: Transaction,
    shopId: string,
    now: number,
    { isMuch } = { isMuch: false },
  ): Promise<LedgerPage | undefined> {
    if (isMuch) await announceLongWork(tx);
    const [head] = await tx.$queryRaw<{ seq: number; recordedAt: bigint }[]>`
      SELECT "seq", "recordedAt" FROM "ledgerHead" WHERE "shopId" = ${shopId}::uuid FOR UPDATE`;
    return head && new LedgerPage(tx, shopId, head.seq, Math.max(now, Number(head.recordedAt)));
  }

  /** The first page of a shop that is just being founded. */
  static first(tx: Transaction, shopId: string, now: number): LedgerPage {
    return new LedgerPage(tx, shopId, 0, now);
  }

  get seq(): number {
    return this.lastSeq;
  }

  get rowsAfter(): RowAfter[] {
    return [...this.after.values()];
  }

  /** Writes a ruling down with whatever it changes: rows, one ledger entry, and the answer. */
  async write(ask: Ask, ruling: Ruling): Promise<Answer> {
    // as the ledger will give them back at a replay: what is undefined is not there
    const events = JSON.parse(JSON.stringify(ruling.events)) as ShopEvent[];
    const taken = await this.takenId(events);
    if (taken)
      return this.write(ask, refused({ kind: "malformed", field: taken, expected: "an id that nothing here has" }));
    const seq = events.length > 0 ? this.lastSeq + 1 : undefined;
    const { tx, shopId, recordedAt } = this;
    const { intentId, asked, deviceId } = ask;
    const after = seq === undefined ? [] : this.apply(events, seq);
    const entry = seq === undefined ? {} : { entry: this.entryOf(ask, ruling.verdict, events, seq) };
    const ruled = { shopId, intentId, asked, deviceId, ruling, recordedAt, seq };
    const { stored, answer } = await rulingToKeep(tx, ruled, new Set(after.map(({ row }) => row.id)));
    const stamp = { shopId, createdBy: asked.memberId ?? null, seq: seq ?? this.lastSeq };
    await storeIntent(tx, { after, stamp, ...entry, ruling: stored });
    this.written.add(intentId);
    this.lastSeq = seq ?? this.lastSeq;
    return answer;
  }

  /** Has this intent got its ruling on this page? */
  hasWritten(intentId: string): boolean {
    return this.written.has(intentId);
  }

  async close(): Promise<void> {
    const { shopId, lastSeq: seq, recordedAt } = this;
    await this.tx.$executeRaw`
      INSERT INTO "ledgerHead" ("shopId", "seq", "recordedAt") VALUES (${shopId}::uuid, ${seq}::int, ${recordedAt}::bigint)
      ON CONFLICT ("shopId") DO UPDATE SET "seq" = excluded."seq", "recordedAt" = excluded."recordedAt"`;
  }

  private apply(events: readonly ShopEvent[], seq: number): RowAfter[] {
    const changed = new Map<string, RowAfter>();
    for (const event of events) {
      const rows = apply(this.facts, event);
      this.facts.take(rows, seq);
      for (const found of rows) lay(changed, found);
    }
    for (const found of changed.values()) lay(this.after, found);
    return [...changed.values()];
  }

  private entryOf(ask: Ask, verdict: Ruling["verdict"], events: readonly ShopEvent[], seq: number): object {
    const why = (ask.asked.body as { why?: unknown } | null)?.why;
    const { madeAt, happenedAt } = ask.when;
    return {
      shopId: this.shopId,
      seq,
      intentId: ask.intentId,
      kind: ask.asked.kind,
      verdict,
      memberId: ask.asked.memberId,
      deviceId: ask.deviceId,
      deviceAt: ask.deviceAt,
      offsetMs: ask.offsetMs,
      madeAt,
      happenedAt,
      recordedAt: this.recordedAt,
      why: typeof why === "string" ? why : null,
      pieceIds: [...new Set(events.flatMap((event) => event.pieceId ?? []))],
      events,
    };
  }

  /** The table of a new row whose id is there already: ids are made by devices, and one may be wrong or lie. */
  private async takenId(events: readonly ShopEvent[]): Promise<TableName | undefined> {
    const idsByTable = new Map<TableName, string[]>();
    for (const change of events.flatMap((event) => event.changes)) {
      if ("isNew" in change && change.isNew) {
        idsByTable.set(change.table, [...(idsByTable.get(change.table) ?? []), change.id]);
      }
    }
    for (const [table, ids] of idsByTable) {
      if (new Set(ids).size < ids.length) return table;
      if ((await findRows(this.tx, table, { shopId: this.shopId, id: { in: ids } })).length > 0) return table;
    }
    return undefined;
  }
}

/** A row that is made and then changed is still new to whoever sees only the end. */
function lay(rows: Map<string, RowAfter>, { table, row, isNew }: RowAfter): void {
  const key = `${table} ${(row as Row<TableName>).id}`;
  rows.set(key, { table, row, isNew: isNew || (rows.get(key)?.isNew ?? false) } as RowAfter);
}
