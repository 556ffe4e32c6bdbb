/** The floor of a shop as the server would write it, from rows in memory; and a socket that a test holds by the other end. */
import { thinReadings } from "~/core/climate/history";
import { checkpointOf } from "~/core/cure/checkpoint";
import type { LaidCoat } from "~/core/cure/picture";
import { airDayKey, belongsOnFloor, floorTables, packAir } from "~/core/shop/floor";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { pictureOf } from "~/core/shop/picture";
import type { Reading } from "~/core/shop/tables";
import { FloorDocument, type FloorEntry } from "../../../server/floor-document";

type Window = { seq: number; airFromAt: number; askedAt: number };

/** Everything that the floor carries of these rows, with checkpoints for films that are older than the air. */
export function floorOf(facts: MemoryFacts, { seq, airFromAt, askedAt }: Window): FloorDocument {
  const hasLeft = (pieceId: string) => facts.get("piece", pieceId)?.archivedAt !== undefined;
  const entries: FloorEntry[] = [];
  for (const part of floorTables) {
    for (const value of facts.all(part)) {
      if (belongsOnFloor(part, value, hasLeft)) entries.push({ part, key: value.id, value });
    }
  }
  for (const room of facts.all("room")) {
    const thinned = thinReadings(facts.readings(room.id, 0));
    const before = thinned.findLast(({ at }) => at < airFromAt);
    const byDay = new Map<string, Reading[]>();
    for (const reading of [...(before ? [before] : []), ...thinned.filter(({ at }) => at >= airFromAt)]) {
      const key = airDayKey(room.id, reading.at);
      byDay.set(key, [...(byDay.get(key) ?? []), reading]);
    }
    for (const [key, readings] of byDay) entries.push({ part: "air", key, value: packAir(readings) });
  }
  for (const coat of facts.all("coat")) {
    const picture = pictureOf(facts, coat.pieceId);
    if (!picture || !coat.applied || coat.applied.endedAt >= airFromAt) continue;
    entries.push({
      part: "checkpoint",
      key: coat.id,
      value: checkpointOf(picture, coat as LaidCoat, airFromAt, askedAt),
    });
  }
  const shop = facts.all("shop")[0];
  const meta = { shopId: shop?.id, epoch: 1, seq, zone: shop?.zone, airFromAt };
  entries.push(...Object.entries(meta).map(([key, value]): FloorEntry => ({ part: "meta", key, value })));
  const floor = new FloorDocument();
  floor.set(entries);
  return floor;
}

/** The client's end of a socket; the test is the server. */
export class HeldSocket {
  static readonly made: HeldSocket[] = [];
  readonly OPEN = 1;
  readyState = 0;
  binaryType = "arraybuffer";
  readonly sent: Uint8Array[] = [];
  onopen: (() => void) | null = null;
  onmessage: ((event: { data: Uint8Array }) => void) | null = null;
  onclose: ((event: { code: number; reason: string }) => void) | null = null;
  onerror: (() => void) | null = null;

  constructor(readonly url: string) {
    HeldSocket.made.push(this);
  }

  static get last(): HeldSocket {
    const socket = HeldSocket.made.at(-1);
    if (!socket) throw new Error("nobody has connected");
    return socket;
  }

  /** Accepts the connection and says these frames. */
  accept(...frames: Uint8Array[]): void {
    this.readyState = this.OPEN;
    this.onopen?.();
    for (const data of frames) this.onmessage?.({ data });
  }

  say(data: Uint8Array): void {
    this.onmessage?.({ data });
  }

  hangUp(code: number): void {
    this.hangUpWith({ code, reason: "" });
  }

  hangUpWith(said: { code: number; reason: string }): void {
    this.readyState = 3;
    this.onclose?.(said);
  }

  send(data: Uint8Array): void {
    this.sent.push(data);
  }

  close(): void {
    this.readyState = 3;
  }
}

export const heldSocket = HeldSocket as unknown as typeof WebSocket;
