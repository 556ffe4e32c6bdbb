import { EventEmitter } from "node:events";
import type { WebSocket } from "ws";
import type { Access } from "../../../server/access";
import { Connection } from "../../../server/connection";
import { ShopPace } from "../../../server/rate";

/** One end of a line, with nothing behind it: what the server sends is kept, what a device sends is put in by hand. */
export class Line extends EventEmitter {
  readonly sent: Buffer[] = [];
  bufferedAmount = 0;
  closeCode: number | undefined;
  pings = 0;
  isTerminated = false;
  isPaused = false;
  readonly faults: unknown[] = [];
  send = (bytes: Buffer): void => void this.sent.push(bytes);
  ping(): void {
    this.pings += 1;
  }
  pause(): void {
    this.isPaused = true;
  }
  resume(): void {
    this.isPaused = false;
  }
  terminate(): void {
    this.isTerminated = true;
    this.emit("close");
  }
  close(code: number): void {
    this.closeCode = code;
  }
  say = (bytes: Uint8Array): void => void this.emit("message", Buffer.from(bytes), true);
}

export const fern: Access = { sessionId: "s1", shopId: "shop", deviceId: "d1", memberId: "fern", mode: "read" };

export function connectionOn(
  line: Line,
  now: () => number,
  access: Access = fern,
  shop = new ShopPace(now()),
): Connection {
  const report = (error: unknown) => line.faults.push(error);
  return new Connection(line as unknown as WebSocket, access, { now, shop, report });
}
