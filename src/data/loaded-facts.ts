import type { RoomAir } from "~/core/climate/history";
import type { Checkpoint } from "~/core/cure/picture";
import type { RowAfter } from "~/core/shop/apply";
import type { CoatId, MemberId, RoomId } from "~/core/shop/entities/ids";
import type { Facts, LookUpField, Need } from "~/core/shop/facts";
import { MemoryFacts } from "~/core/shop/memory-facts";
import type { Past, PastEntry } from "~/core/shop/past";
import type { Row, TableName } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";

/**
 * Facts that know what they carry. Not to find a row is an answer only where it was looked for: a rule that reads what its
 * intent does not declare is a bug, and throws here instead of ruling on half of the shop.
 */
export class LoadedFacts implements Facts {
  /** What is there so far, without complaint: for working out what else is needed. */
  readonly memory = new MemoryFacts();
  private readonly carried = new Set<string>();
  private readonly carriedFrom = new Map<string, InstantMs>();
  private readonly madeSeq = new Map<string, number>();
  /** Made in this turn: what the database holds cannot refer to them. */
  private readonly madeHere = new Set<string>();

  put<Table extends TableName>(table: Table, row: Row<Table>, createdSeq: number): void {
    this.memory.put(table, row);
    const key = keyOf(table, row.id);
    if (!this.madeSeq.has(key)) this.madeSeq.set(key, createdSeq);
  }

  /** What an intent left different; whatever is carried stays complete, because nobody else writes meanwhile. */
  take(rows: readonly RowAfter[], seq: number): void {
    for (const { table, row, isNew, isGone } of rows) {
      if (isNew) this.madeHere.add(row.id);
      if (isGone) this.memory.remove(table, row);
      else this.put(table, row, seq);
    }
  }

  remember(need: Need): void {
    if (!("fromAt" in need)) this.carried.add(needKey(need));
    else this.carriedFrom.set(needKey(need), Math.min(need.fromAt, this.carriedFrom.get(needKey(need)) ?? need.fromAt));
  }

  carries(need: Need): boolean {
    if ("readingsOf" in need && this.madeHere.has(need.readingsOf)) return true;
    if ("value" in need && this.madeHere.has(need.value)) return true;
    if ("id" in need && this.memory.get(need.table, need.id)) return true;
    if ("fromAt" in need) return (this.carriedFrom.get(needKey(need)) ?? Number.POSITIVE_INFINITY) <= need.fromAt;
    return this.carried.has(needKey(need)) || ("table" in need && this.carried.has(keyOf(need.table, "all")));
  }

  get<Table extends TableName>(table: Table, id: string): Row<Table> | undefined {
    const row = this.memory.get(table, id);
    // an empty id names nothing, wherever one looks
    if (!row && id !== "") this.insist({ table, id });
    return row;
  }

  where<Table extends TableName>(table: Table, field: LookUpField<Table>, value: string): Row<Table>[] {
    this.insist({ table, field, value });
    return this.inOrder(table, this.memory.where(table, field, value));
  }

  all<Table extends TableName>(table: Table): Row<Table>[] {
    // a shop has one row in that table: its own
    if (table !== "shop") this.insist({ table, all: true });
    return this.inOrder(table, this.memory.all(table));
  }

  running(): Row<"entry">[] {
    this.insist({ running: true });
    return this.memory.running();
  }

  entries(memberId: MemberId, fromAt: InstantMs): Row<"entry">[] {
    this.insist({ entriesOf: memberId, fromAt });
    return this.memory.entries(memberId, fromAt);
  }

  readings(roomId: RoomId, fromAt: InstantMs): Row<"reading">[] {
    this.insist({ readingsOf: roomId, fromAt });
    return this.memory.readings(roomId, fromAt);
  }

  air(roomId: RoomId, fromAt: InstantMs): RoomAir {
    this.insist({ readingsOf: roomId, fromAt });
    return this.memory.air(roomId, fromAt);
  }

  /** What was ruled, in this turn or as the ledger has it, for whoever wants to take it back. */
  noteRuling(entry: PastEntry): void {
    this.memory.noteRuling(entry);
  }

  past(intentId: string): Past | undefined {
    this.insist({ pastFrom: intentId });
    return this.memory.past(intentId);
  }

  checkpoints(): ReadonlyMap<CoatId, Checkpoint> {
    return this.memory.checkpoints();
  }

  private insist(need: Need): void {
    if (!this.carries(need)) throw new Error(`a rule reads ${JSON.stringify(need)}, which its intent does not declare`);
  }

  private inOrder<Table extends TableName>(table: Table, rows: Row<Table>[]): Row<Table>[] {
    const seqOf = (row: Row<Table>) => this.madeSeq.get(keyOf(table, row.id)) ?? 0;
    return rows.sort((a, b) => seqOf(a) - seqOf(b));
  }
}

const keyOf = (table: TableName, what: string) => `${table} ${what}`;

function needKey(need: Need): string {
  if ("running" in need) return "running";
  if ("readingsOf" in need) return `readings ${need.readingsOf}`;
  if ("pastFrom" in need) return `past ${need.pastFrom}`;
  if ("entriesOf" in need) return `entries ${need.entriesOf}`;
  if ("all" in need) return keyOf(need.table, "all");
  return "id" in need ? keyOf(need.table, need.id) : keyOf(need.table, `${need.field} ${need.value}`);
}
