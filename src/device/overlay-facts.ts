import { type RoomAir, roomAir } from "~/core/climate/history";
import type { Checkpoint } from "~/core/cure/picture";
import { grown } from "~/core/shop/air-histories";
import type { RowAfter } from "~/core/shop/apply";
import type { CoatId, MemberId, RoomId } from "~/core/shop/entities/ids";
import { CannotTellHere, type Facts, type LookUpField } from "~/core/shop/facts";
import type { Past } from "~/core/shop/past";
import type { Reading, Row, TableName } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { type AnyRow, OverlayRows } from "./overlay-rows";
import { isSameList } from "./same-list";

/** A history and what it was made of; it is made anew only when one of these is another. */
type AirMade = { air: RoomAir; from: readonly unknown[] };

/** Facts with rows laid over others: what is under them stays untouched. */
export class OverlayFacts implements Facts {
  private readonly over = new Map<TableName, OverlayRows>();
  /** Tables whose rows another overlay shows as well. */
  private readonly shared = new Set<TableName>();

  constructor(
    private readonly under: Facts,
    private readonly airByRoom = new Map<RoomId, AirMade>(),
  ) {}

  /** The same rows over the same floor, to lay more over them; these stay as they are. */
  copy(): OverlayFacts {
    const copy = new OverlayFacts(this.under, this.airByRoom);
    for (const [table, rows] of this.over) {
      copy.over.set(table, rows);
      copy.shared.add(table);
    }
    return copy;
  }

  /** Nothing yet over a floor that is another now; a history that comes out the same again is the same object. */
  anew(under: Facts): OverlayFacts {
    return new OverlayFacts(under, this.airByRoom);
  }

  /** @param last laid before this one: a row that says the same as there is the same object */
  take(rows: readonly RowAfter[], last?: OverlayFacts): void {
    for (const { table, row } of rows) {
      const before = last?.over.get(table)?.get(row.id);
      const isAsBefore = before !== undefined && JSON.stringify(before) === JSON.stringify(row);
      this.rowsToPut(table).put(isAsBefore ? before : (row as unknown as AnyRow));
    }
  }

  get<Table extends TableName>(table: Table, id: string): Row<Table> | undefined {
    return (this.over.get(table)?.get(id) as Row<Table> | undefined) ?? this.under.get(table, id);
  }

  where<Table extends TableName>(table: Table, field: LookUpField<Table>, value: string): Row<Table>[] {
    const under = this.under.where(table, field, value);
    return (this.over.get(table)?.where(plain(under), field, value) as Row<Table>[] | undefined) ?? under;
  }

  all<Table extends TableName>(table: Table): Row<Table>[] {
    const under = this.under.all(table);
    return (this.over.get(table)?.all(plain(under)) as Row<Table>[] | undefined) ?? under;
  }

  running(): Row<"entry">[] {
    return this.entriesOver(
      this.under.running(),
      ({ endedAt, struckAt }) => endedAt === undefined && struckAt === undefined,
    );
  }

  entries(memberId: MemberId, fromAt: InstantMs): Row<"entry">[] {
    return this.entriesOver(
      this.under.entries(memberId, fromAt),
      (entry) => entry.memberId === memberId && (entry.endedAt === undefined || entry.endedAt >= fromAt),
    );
  }

  readings(roomId: RoomId, fromAt: InstantMs): Row<"reading">[] {
    const under = this.under.readings(roomId, fromAt);
    const found = this.over.get("reading")?.where(plain(under), "roomId", roomId) as Reading[] | undefined;
    return found?.filter(({ at }) => at >= fromAt) ?? under;
  }

  air(roomId: RoomId, fromAt: InstantMs): RoomAir {
    const under = this.under.get("room", roomId) && this.under.air(roomId, fromAt);
    const written = (this.over.get("reading")?.where([], "roomId", roomId) ?? []) as unknown as Reading[];
    const isRoomOver = this.over.get("room")?.get(roomId) !== undefined;
    const isForecastOver = (this.over.get("forecast")?.where([], "roomId", roomId) ?? []).length > 0;
    if (under && written.length === 0 && !isRoomOver && !isForecastOver) return under;
    const room = this.get("room", roomId);
    if (!room) throw new CannotTellHere("this room");
    const [forecast] = this.where("forecast", "roomId", roomId);
    const from = [under, room, forecast, ...written];
    const kept = this.airByRoom.get(roomId);
    if (kept && isSameList(kept.from, from)) return kept.air;
    const base = isRoomOver || isForecastOver ? undefined : under;
    const air = (base && grownBy(base, kept, from, written)) ?? laidOut(under, written, room, forecast);
    this.airByRoom.set(roomId, { air, from });
    return air;
  }

  checkpoints(): ReadonlyMap<CoatId, Checkpoint> {
    return this.under.checkpoints();
  }

  past(intentId: string): Past | undefined {
    return this.under.past(intentId);
  }

  private rowsToPut(table: TableName): OverlayRows {
    const known = this.over.get(table);
    if (known && !this.shared.has(table)) return known;
    const own = known?.copy() ?? new OverlayRows();
    this.shared.delete(table);
    this.over.set(table, own);
    return own;
  }

  private entriesOver(under: Row<"entry">[], fits: (entry: Row<"entry">) => boolean): Row<"entry">[] {
    const over = this.over.get("entry");
    if (!over) return under;
    return (over.merged(plain(under), over.rows()) as Row<"entry">[]).filter(fits);
  }
}

const plain = (rows: readonly { id: string }[]) => rows as AnyRow[];

/** A history with what was written here; nothing where a reading that it had is told anew. */
function grownBy(
  under: RoomAir,
  kept: AirMade | undefined,
  from: readonly unknown[],
  written: readonly Reading[],
): RoomAir | undefined {
  const ids = new Set(written.map(({ id }) => id));
  if (under.readings.some(({ id }) => ids.has(id))) return undefined;
  const isMore = kept !== undefined && isSameList(kept.from, from.slice(0, kept.from.length));
  return isMore ? grown(kept.air, from.slice(kept.from.length) as Reading[]) : grown(under, written);
}

function laidOut(
  under: RoomAir | undefined,
  written: readonly Reading[],
  room: Row<"room">,
  forecast: Row<"forecast"> | undefined,
): RoomAir {
  const retold = new Set(written.map(({ id }) => id));
  const before = under?.readings.filter(({ id }) => !retold.has(id)) ?? [];
  return roomAir([...before, ...written], room, forecast);
}
