import type * as Y from "yjs";
import { type RoomAir, roomAir } from "~/core/climate/history";
import type { Checkpoint } from "~/core/cure/picture";
import { AirHistories } from "~/core/shop/air-histories";
import type { CoatId, MemberId, RoomId } from "~/core/shop/entities/ids";
import { CannotTellHere, type Facts, type LookUpField } from "~/core/shop/facts";
import {
  type AirDay,
  type FloorMeta,
  type FloorPart,
  type FloorTable,
  floorTables,
  isOnFloor,
  unpackAir,
} from "~/core/shop/floor";
import type { Past } from "~/core/shop/past";
import type { Reading, Row, TableName } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";

type AnyRow = { id: string } & Record<string, unknown>;

/** Rows in the order of their ids, which is that in which they were made: ids begin with the time. */
const byId = (one: { id: string }, other: { id: string }) => (one.id < other.id ? -1 : one.id > other.id ? 1 : 0);

/** One table of the document as plain rows; indexes are built when first asked for and dropped when a row changes. */
class FloorRows {
  private sorted: AnyRow[] | undefined;
  private readonly indexes = new Map<string, Map<string, AnyRow[]>>();

  constructor(private readonly rows: Y.Map<AnyRow>) {}

  get(id: string): AnyRow | undefined {
    return this.rows.get(id);
  }

  all(): AnyRow[] {
    this.sorted ??= [...this.rows.values()].sort(byId);
    return this.sorted;
  }

  where(field: string, value: string): AnyRow[] {
    const index = this.indexes.get(field) ?? this.indexed(field);
    return index.get(value) ?? [];
  }

  forget(): void {
    this.sorted = undefined;
    this.indexes.clear();
  }

  private indexed(field: string): Map<string, AnyRow[]> {
    const index = new Map<string, AnyRow[]>();
    for (const row of this.all()) {
      const value = row[field];
      if (typeof value !== "string") continue;
      const rows = index.get(value);
      if (rows) rows.push(row);
      else index.set(value, [row]);
    }
    this.indexes.set(field, index);
    return index;
  }
}

/**
 * The floor document as facts. What it does not carry (ended hours, moves long past, who wrote a reading down) it does
 * not answer: the rule that asks gets "cannot tell here".
 */
export class FloorFacts implements Facts {
  private readonly tables: ReadonlyMap<TableName, FloorRows>;
  private readonly airDays: Y.Map<AirDay>;
  private readonly checkpointMap: Y.Map<Checkpoint>;
  private readonly meta: Y.Map<FloorMeta[keyof FloorMeta]>;
  private readonly readingsByRoom = new Map<RoomId, Reading[]>();
  private readonly histories = new AirHistories();
  private lastLackingByRoom: ReadonlyMap<RoomId, InstantMs> | undefined;
  private checkpointByCoatId: ReadonlyMap<CoatId, Checkpoint> | undefined;

  constructor(document: Y.Doc) {
    this.tables = new Map(floorTables.map((table) => [table, this.observed(document, table)]));
    this.airDays = document.getMap("air" satisfies FloorPart);
    this.checkpointMap = document.getMap("checkpoint" satisfies FloorPart);
    this.meta = document.getMap("meta" satisfies FloorPart);
    this.airDays.observe((event) => {
      for (const [key, { oldValue }] of event.changes.keys) this.takeDay(key, oldValue as AirDay | undefined);
    });
    this.checkpointMap.observe(() => {
      this.checkpointByCoatId = undefined;
      this.lastLackingByRoom = undefined;
    });
    this.meta.observe((event) => {
      if (event.keysChanged.has("airFromAt" satisfies keyof FloorMeta)) this.lastLackingByRoom = undefined;
    });
  }

  /** The ledger number up to which this device has seen; 0 before anything arrived. */
  get seq(): number {
    return this.metaField("seq") ?? 0;
  }

  get<Table extends TableName>(table: Table, id: string): Row<Table> | undefined {
    return this.rowsOf(table).get(id) as Row<Table> | undefined;
  }

  where<Table extends TableName>(table: Table, field: LookUpField<Table>, value: string): Row<Table>[] {
    return this.rowsOf(table).where(field, value) as unknown as Row<Table>[];
  }

  all<Table extends TableName>(table: Table): Row<Table>[] {
    return this.rowsOf(table).all() as unknown as Row<Table>[];
  }

  running(): Row<"entry">[] {
    return this.all("entry");
  }

  entries(_memberId: MemberId, _fromAt: InstantMs): Row<"entry">[] {
    throw new CannotTellHere("ended hours");
  }

  readings(roomId: RoomId, fromAt: InstantMs): Row<"reading">[] {
    if (fromAt < this.airFromAt) throw new CannotTellHere("air of so long ago");
    const found = this.readingsOf(roomId).filter((reading) => reading.at >= fromAt);
    // packed readings have lost who or what wrote them down, which is all that tells two of one instant apart
    if (found.some((reading) => reading.at === fromAt)) throw new CannotTellHere("where a reading came from");
    return found;
  }

  air(roomId: RoomId, fromAt: InstantMs): RoomAir {
    if (fromAt < this.airFromAt && this.lacksCheckpoint(roomId, fromAt)) throw new CannotTellHere("air of so long ago");
    const room = this.get("room", roomId);
    if (!room) throw new CannotTellHere("this room");
    return this.histories.of(roomId, () => {
      const [forecast] = this.where("forecast", "roomId", roomId);
      return roomAir(this.readingsOf(roomId), room, forecast);
    });
  }

  checkpoints(): ReadonlyMap<CoatId, Checkpoint> {
    this.checkpointByCoatId ??= new Map(this.checkpointMap.entries());
    return this.checkpointByCoatId;
  }

  past(_intentId: string): Past | undefined {
    throw new CannotTellHere("the ledger");
  }

  private get airFromAt(): InstantMs {
    return this.metaField("airFromAt") ?? 0;
  }

  private metaField<Field extends keyof FloorMeta>(field: Field): FloorMeta[Field] | undefined {
    return this.meta.get(field) as FloorMeta[Field] | undefined;
  }

  private observed(document: Y.Doc, table: FloorTable): FloorRows {
    const map = document.getMap<AnyRow>(table);
    const rows = new FloorRows(map);
    map.observe((event) => {
      rows.forget();
      if (table === "room") for (const id of event.keysChanged) this.histories.forget(id);
      if (table === "forecast") this.histories.forgetAll();
      if (table === "coat" || table === "roomStay") this.lastLackingByRoom = undefined;
    });
    return rows;
  }

  private rowsOf(table: TableName): FloorRows {
    const rows = isOnFloor(table) ? this.tables.get(table) : undefined;
    if (!rows) throw new CannotTellHere(`the table ${table}`);
    return rows;
  }

  private readingsOf(roomId: RoomId): Reading[] {
    let readings = this.readingsByRoom.get(roomId);
    if (!readings) {
      readings = [...this.airDays.entries()]
        .filter(([key]) => key.startsWith(`${roomId}:`))
        .flatMap(([, day]) => unpackAir(roomId, day))
        .sort((one, other) => one.at - other.at);
      this.readingsByRoom.set(roomId, readings);
    }
    return readings;
  }

  /** A day of air as it is now: where readings only came behind the others, the room's history grows by them. */
  private takeDay(key: string, before: AirDay | undefined): void {
    const roomId = key.slice(0, key.indexOf(":"));
    const day = this.airDays.get(key);
    const readings = day ? unpackAir(roomId, day) : [];
    const known = before ? unpackAir(roomId, before) : [];
    this.readingsByRoom.delete(roomId);
    if (known.every((reading, index) => isSameReading(reading, readings[index])))
      this.histories.add(roomId, readings.slice(known.length));
    else this.histories.forget(roomId);
  }

  /** Does a film lie on a piece of this room that was laid before the air that is carried, without what it had earned? */
  private lacksCheckpoint(roomId: RoomId, fromAt: InstantMs): boolean {
    this.lastLackingByRoom ??= this.lacking();
    const lastAt = this.lastLackingByRoom.get(roomId);
    return lastAt !== undefined && lastAt >= fromAt;
  }

  /** By room, when the last of such films was laid. */
  private lacking(): Map<RoomId, InstantMs> {
    const lastAtByRoom = new Map<RoomId, InstantMs>();
    const checkpoints = this.checkpoints();
    for (const { id, pieceId, state, applied, removed } of this.all("coat")) {
      if (applied === undefined || applied.endedAt >= this.airFromAt || state === "struck") continue;
      if ((removed !== undefined && removed.at <= this.airFromAt) || checkpoints.has(id)) continue;
      for (const { roomId } of this.where("roomStay", "pieceId", pieceId))
        lastAtByRoom.set(roomId, Math.max(lastAtByRoom.get(roomId) ?? applied.endedAt, applied.endedAt));
    }
    return lastAtByRoom;
  }
}

const isSameReading = (one: Reading, other: Reading | undefined): boolean =>
  other !== undefined &&
  one.at === other.at &&
  one.airCelsius === other.airCelsius &&
  one.humidityPercent === other.humidityPercent &&
  one.surfaceCelsius === other.surfaceCelsius &&
  one.spanFromAt === other.spanFromAt;
