import { type RoomAir, roomAir } from "~/core/climate/history";
import type { Checkpoint } from "~/core/cure/picture";
import type { RowAfter } from "~/core/shop/apply";
import type { CoatId, MemberId, RoomId } from "~/core/shop/entities/ids";
import { CannotTellHere, type Facts, type LookUpField } from "~/core/shop/facts";
import type { Past } from "~/core/shop/past";
import type { Reading, Row, TableName } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";

type AnyRow = { id: string } & Record<string, unknown>;

/** Facts with rows laid over others: what is under them stays untouched. */
export class OverlayFacts implements Facts {
  private readonly over = new Map<TableName, Map<string, AnyRow>>();
  private readonly airByRoom = new Map<RoomId, RoomAir>();

  constructor(private readonly under: Facts) {}

  take(rows: readonly RowAfter[]): void {
    for (const { table, row } of rows) {
      const ofTable = this.over.get(table) ?? new Map<string, AnyRow>();
      ofTable.set(row.id, row as unknown as AnyRow);
      this.over.set(table, ofTable);
      if (table === "reading") this.airByRoom.delete((row as Reading).roomId);
      if (table === "room") this.airByRoom.delete(row.id);
      if (table === "forecast") this.airByRoom.delete((row as Row<"forecast">).roomId);
    }
  }

  get<Table extends TableName>(table: Table, id: string): Row<Table> | undefined {
    return (this.over.get(table)?.get(id) as Row<Table> | undefined) ?? this.under.get(table, id);
  }

  where<Table extends TableName>(table: Table, field: LookUpField<Table>, value: string): Row<Table>[] {
    return this.merged(table, this.under.where(table, field, value), (row) => row[field] === value);
  }

  all<Table extends TableName>(table: Table): Row<Table>[] {
    return this.merged(table, this.under.all(table), () => true);
  }

  running(): Row<"entry">[] {
    return this.merged("entry", this.under.running(), (row) => row.endedAt === undefined && row.struckAt === undefined);
  }

  entries(memberId: MemberId, fromAt: InstantMs): Row<"entry">[] {
    return this.merged("entry", this.under.entries(memberId, fromAt), (row) => {
      const { endedAt } = row as Row<"entry">;
      return row.memberId === memberId && (endedAt === undefined || endedAt >= fromAt);
    });
  }

  readings(roomId: RoomId, fromAt: InstantMs): Row<"reading">[] {
    return this.merged("reading", this.under.readings(roomId, fromAt), (row) => {
      const { at } = row as unknown as Reading;
      return row.roomId === roomId && at >= fromAt;
    });
  }

  air(roomId: RoomId, fromAt: InstantMs): RoomAir {
    const known = this.airByRoom.get(roomId);
    if (known) return known;
    const written = [...(this.over.get("reading")?.values() ?? [])] as unknown as Reading[];
    const ofRoom = written.filter((reading) => reading.roomId === roomId);
    const isRoomNew = this.over.get("room")?.has(roomId) ?? false;
    const isForecastNew = [...(this.over.get("forecast")?.values() ?? [])].some((row) => row.roomId === roomId);
    if (ofRoom.length === 0 && !isRoomNew && !isForecastNew) return this.under.air(roomId, fromAt);
    const room = this.get("room", roomId);
    if (!room) throw new CannotTellHere("this room");
    const before = this.isUnder("room", roomId) ? this.under.air(roomId, fromAt).readings : [];
    const retold = new Set(ofRoom.map((reading) => reading.id));
    const [forecast] = this.where("forecast", "roomId", roomId);
    const air = roomAir([...before.filter((reading) => !retold.has(reading.id)), ...ofRoom], room, forecast);
    this.airByRoom.set(roomId, air);
    return air;
  }

  checkpoints(): ReadonlyMap<CoatId, Checkpoint> {
    return this.under.checkpoints();
  }

  past(intentId: string): Past | undefined {
    return this.under.past(intentId);
  }

  private isUnder(table: TableName, id: string): boolean {
    return this.under.get(table, id) !== undefined;
  }

  private merged<Table extends TableName>(
    table: Table,
    under: Row<Table>[],
    fits: (row: AnyRow) => boolean,
  ): Row<Table>[] {
    const over = this.over.get(table);
    if (!over) return under;
    const fitting = [...over.values()].filter(fits);
    const rows = [...under.filter((row) => !over.has(row.id)), ...(fitting as unknown as Row<Table>[])];
    return rows.sort((one, other) => (one.id < other.id ? -1 : 1));
  }
}
