import { type RoomAir, roomAir } from "../climate/history";
import type { Checkpoint } from "../cure/picture";
import type { InstantMs } from "../units";
import { AirHistories } from "./air-histories";
import type { RowAfter } from "./apply";
import type { CoatId, MemberId, RoomId } from "./entities/ids";
import { type Facts, type LookUpField, lookUpFields } from "./facts";
import { type Past, type PastEntry, pastAmong } from "./past";
import { type Row, type TableName, tableNames } from "./tables";

type AnyRow = { id: string } & Record<string, unknown>;

/** Rows of one table by id, and by each field that they are looked up by. */
class TableInMemory {
  readonly byId = new Map<string, AnyRow>();
  private readonly byField = new Map<string, Map<string, Set<string>>>();

  constructor(fields: readonly string[]) {
    for (const field of fields) this.byField.set(field, new Map());
  }

  put(row: AnyRow): void {
    const before = this.byId.get(row.id);
    this.byId.set(row.id, row);
    for (const [field, index] of this.byField) {
      const [was, is] = [before?.[field], row[field]];
      if (was === is) continue;
      if (typeof was === "string") index.get(was)?.delete(row.id);
      if (typeof is !== "string") continue;
      const ids = index.get(is);
      if (ids) ids.add(row.id);
      else index.set(is, new Set([row.id]));
    }
  }

  remove(id: string): void {
    const row = this.byId.get(id);
    this.byId.delete(id);
    for (const [field, index] of this.byField) index.get(row?.[field] as string)?.delete(id);
  }

  where(field: string, value: string): AnyRow[] {
    const ids = this.byField.get(field)?.get(value) ?? [];
    return [...ids].map((id) => this.byId.get(id) as AnyRow);
  }
}

/** Facts held in memory: the server fills them with what an intent declares, a replay with everything. */
export class MemoryFacts implements Facts {
  private readonly tables = Object.fromEntries(
    tableNames.map((name) => [name, new TableInMemory(lookUpFields[name])]),
  ) as Record<TableName, TableInMemory>;
  private readonly readingsByRoom = new Map<RoomId, Map<string, Row<"reading">>>();
  private readonly entriesByMember = new Map<MemberId, Map<string, Row<"entry">>>();
  private readonly runningById = new Map<string, Row<"entry">>();
  private readonly histories = new AirHistories();
  private readonly pastById = new Map<string, PastEntry>();

  put<Table extends TableName>(table: Table, row: Row<Table>): void {
    this.tables[table].put(row as unknown as AnyRow);
    if (table === "reading") this.putReading(row as Row<"reading">);
    if (table === "entry") this.putEntry(row as Row<"entry">);
    if (table === "room") this.histories.forget((row as Row<"room">).id);
    if (table === "forecast") this.histories.forget((row as Row<"forecast">).roomId);
  }

  /** Takes what an event left different. */
  take(rows: readonly RowAfter[]): void {
    for (const { table, row, isGone } of rows) {
      if (isGone) this.remove(table, row);
      else this.put(table, row);
    }
  }

  /** Forgets a row that is no more. */
  remove<Table extends TableName>(table: Table, row: Row<Table>): void {
    this.tables[table].remove(row.id);
    if (table === "reading") {
      const { id, roomId } = row as Row<"reading">;
      this.readingsByRoom.get(roomId)?.delete(id);
      this.histories.forget(roomId);
    }
    if (table === "entry") {
      const { id, memberId } = row as Row<"entry">;
      this.entriesByMember.get(memberId)?.delete(id);
      this.runningById.delete(id);
    }
    if (table === "forecast") this.histories.forget((row as Row<"forecast">).roomId);
  }

  /** Takes what was ruled, for whoever wants to take it back. */
  noteRuling(entry: PastEntry): void {
    this.pastById.set(entry.intentId, entry);
  }

  past(intentId: string): Past | undefined {
    return pastAmong([...this.pastById.values()], intentId);
  }

  get<Table extends TableName>(table: Table, id: string): Row<Table> | undefined {
    return this.tables[table].byId.get(id) as Row<Table> | undefined;
  }

  where<Table extends TableName>(table: Table, field: LookUpField<Table>, value: string): Row<Table>[] {
    return this.tables[table].where(field, value) as unknown as Row<Table>[];
  }

  all<Table extends TableName>(table: Table): Row<Table>[] {
    return [...this.tables[table].byId.values()] as unknown as Row<Table>[];
  }

  running(): Row<"entry">[] {
    return [...this.runningById.values()];
  }

  entries(memberId: MemberId, fromAt: InstantMs): Row<"entry">[] {
    const rows = this.entriesByMember.get(memberId)?.values() ?? [];
    return [...rows].filter((entry) => entry.endedAt === undefined || entry.endedAt >= fromAt);
  }

  readings(roomId: RoomId, fromAt: InstantMs): Row<"reading">[] {
    const rows = this.readingsByRoom.get(roomId)?.values() ?? [];
    return [...rows].filter((reading) => reading.at >= fromAt);
  }

  air(roomId: RoomId, _fromAt: InstantMs): RoomAir {
    const room = this.get("room", roomId);
    if (!room) throw new Error(`no room ${roomId}`);
    return this.histories.of(roomId, () => {
      const [forecast] = this.where("forecast", "roomId", roomId);
      return roomAir([...(this.readingsByRoom.get(roomId)?.values() ?? [])], room, forecast);
    });
  }

  checkpoints(): ReadonlyMap<CoatId, Checkpoint> {
    return noCheckpoints;
  }

  private putReading(reading: Row<"reading">): void {
    const ofRoom = this.readingsByRoom.get(reading.roomId) ?? new Map<string, Row<"reading">>();
    if (ofRoom.has(reading.id)) this.histories.forget(reading.roomId);
    else this.histories.add(reading.roomId, [reading]);
    ofRoom.set(reading.id, reading);
    this.readingsByRoom.set(reading.roomId, ofRoom);
  }

  private putEntry(entry: Row<"entry">): void {
    const ofMember = this.entriesByMember.get(entry.memberId) ?? new Map();
    ofMember.set(entry.id, entry);
    this.entriesByMember.set(entry.memberId, ofMember);
    if (entry.endedAt === undefined && entry.struckAt === undefined) this.runningById.set(entry.id, entry);
    else this.runningById.delete(entry.id);
  }
}

const noCheckpoints: ReadonlyMap<CoatId, Checkpoint> = new Map();
