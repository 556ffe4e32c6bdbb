/** One turn at a shop's ledger, inside of one transaction: locked, written to, closed. */
import { apply, type RowAfter } from "~/core/shop/apply";
import { type Ruling, refused } from "~/core/shop/define";
import type { ShopEvent } from "~/core/shop/event";
import type { Moments } from "~/core/shop/moments";
import type { Row, TableName } from "~/core/shop/tables";
import type { Transaction } from "./db";
import type { Prisma } from "./generated/client";
import { LoadedFacts } from "./loaded-facts";
import { findRows, writeRows } from "./rows";
import { type Answer, type Asked, keepRuling } from "./rulings";

export type Ask = {
  intentId: string;
  asked: Asked;
  when: Moments;
  deviceId?: string;
  deviceAt?: number;
  offsetMs?: number;
};

export class LedgerPage {
  readonly facts = new LoadedFacts();
  private readonly after = new Map<string, RowAfter>();

  private constructor(
    readonly tx: Transaction,
    readonly shopId: string,
    private lastSeq: number,
    /** Of everything written in this turn; it never runs backwards from one turn to the next. */
    readonly recordedAt: number,
  ) {}

  /** Waits for its turn. Undefined where there is no such shop. */
  static async open(tx: Transaction, shopId: string, now: number): Promise<LedgerPage | undefined> {
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
    if (seq !== undefined) {
      await this.apply(events, seq, ask.asked.memberId);
      await this.enter(ask, ruling.verdict, events, seq);
      this.lastSeq = seq;
    }
    const { shopId, recordedAt } = this;
    const { intentId, asked, deviceId } = ask;
    return keepRuling(this.tx, { shopId, intentId, asked, deviceId, ruling, recordedAt, seq });
  }

  async close(): Promise<void> {
    const { shopId, lastSeq: seq, recordedAt } = this;
    await this.tx.ledgerHead.upsert({
      where: { shopId },
      create: { shopId, seq, recordedAt },
      update: { seq, recordedAt },
    });
  }

  private async apply(events: readonly ShopEvent[], seq: number, createdBy = null as string | null): Promise<void> {
    const changed = new Map<string, RowAfter>();
    for (const event of events) {
      const rows = apply(this.facts, event);
      this.facts.take(rows, seq);
      for (const found of rows) lay(changed, found);
    }
    await writeRows(this.tx, [...changed.values()], { shopId: this.shopId, createdBy, seq });
    for (const found of changed.values()) lay(this.after, found);
  }

  private async enter(ask: Ask, verdict: Ruling["verdict"], events: ShopEvent[], seq: number): Promise<void> {
    const why = (ask.asked.body as { why?: unknown } | null)?.why;
    const { madeAt, happenedAt } = ask.when;
    await this.tx.ledgerEntry.create({
      data: {
        shopId: this.shopId,
        seq,
        intentId: ask.intentId,
        kind: ask.asked.kind,
        verdict,
        memberId: ask.asked.memberId ?? null,
        deviceId: ask.deviceId ?? null,
        deviceAt: ask.deviceAt ?? null,
        offsetMs: ask.offsetMs ?? null,
        madeAt,
        happenedAt,
        recordedAt: this.recordedAt,
        why: typeof why === "string" ? why : null,
        pieceIds: [...new Set(events.flatMap((event) => event.pieceId ?? []))],
        events: events as unknown as Prisma.InputJsonArray,
      },
    });
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
