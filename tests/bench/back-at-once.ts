/** Everybody comes back in the same moment after a crash, each with words that it wrote while there was no server. */
import { setTimeout as pause } from "node:timers/promises";
import WebSocket from "ws";
import * as Y from "yjs";
import { readFrame, step1Frame } from "../../server/messages";
import { killDoor, openDoor } from "../server/support/doors";
import type { BenchPlace } from "./bench-place";
import { Hand } from "./hand";
import { atMost, type Row, seconds } from "./rows";

const devices = 200;
const wordsEach = 20;
const lettersEach = 8;
const patienceMs = 120_000;
/** A server that is asked by more than it can look up at once sends some away for a moment. */
const retryMs = 100;

/** Keeps what it wrote itself, and of what others wrote only how much it is. */
class Returning {
  readonly hand = new Hand(lettersEach);
  private readonly has = new Map<number, number>();
  private socket: WebSocket | undefined;

  constructor(private readonly taken: (bytes: Buffer) => ReadonlyMap<number, number> | undefined) {}

  connect(url: string, cookie: string): void {
    const socket = new WebSocket(url, { headers: { cookie }, perMessageDeflate: false });
    this.socket = socket;
    const again = () => void pause(retryMs).then(() => this.socket === socket && this.connect(url, cookie));
    socket.on("error", () => undefined);
    socket.on("unexpected-response", () => {
      socket.terminate();
      again();
    });
    socket.on("open", () => socket.send(step1Frame(new Uint8Array([0]))));
    socket.on("message", (bytes: Buffer) => {
      if (readFrame(bytes)?.kind === "step1") socket.send(this.hand.whole());
      for (const [client, to] of this.taken(bytes) ?? []) this.has.set(client, Math.max(to, this.has.get(client) ?? 0));
    });
  }

  /** Of how many it has all words. */
  complete(lengthEach: number): number {
    let count = 0;
    for (const length of this.has.values()) if (length >= lengthEach) count += 1;
    return count;
  }

  leave(): void {
    const { socket } = this;
    this.socket = undefined;
    socket?.terminate();
  }
}

export async function measureReturn(place: BenchPlace): Promise<Row[]> {
  const [room] = (await place.freshNotes(1)) as [string];
  const first = await openDoor({ NODE_ENV: "production" });
  let last: { bytes: Buffer; ends: Map<number, number> }[] = [];
  const taken = (bytes: Buffer) => {
    const known = last.find((one) => one.bytes.equals(bytes));
    if (known) return known.ends;
    const frame = readFrame(bytes);
    if (frame?.kind !== "update" && frame?.kind !== "step2") return undefined;
    const { to: ends } = Y.parseUpdateMeta(frame.update);
    last = [{ bytes, ends }, ...last.slice(0, 15)];
    return ends;
  };
  const crew = Array.from({ length: devices }, () => new Returning(taken));
  const comeIn = (port: number) => {
    for (const [number, one] of crew.entries())
      one.connect(`ws://127.0.0.1:${port}/sync/${room}`, place.seat(number).cookie);
  };
  // before the crash each has the others' brackets, and they have its own
  for (const { hand } of crew) hand.next();
  comeIn(first.port);
  await until(() => crew.every((one) => one.complete(2) === devices));
  await killDoor(first);
  for (const one of crew) one.leave();
  for (const { hand } of crew) for (let word = 0; word < wordsEach; word += 1) hand.next();
  const second = await openDoor({ NODE_ENV: "production" });
  const [startedAt, cpuBefore] = [performance.now(), process.cpuUsage()];
  comeIn(second.port);
  await until(() => crew.every((one) => one.complete(2 + wordsEach * lettersEach) === devices));
  const tookMs = performance.now() - startedAt;
  const { user, system } = process.cpuUsage(cpuBefore);
  const ownMs = (user + system) / 1000;
  for (const one of crew) one.leave();
  await killDoor(second);
  return [
    { what: `${devices} devices back, ${wordsEach} words each, until all have all`, value: seconds(tookMs) },
    { what: "of which the devices' own time, all in one process", value: seconds(ownMs) },
    atMost("beyond the devices' own time", tookMs - ownMs, 10_000, seconds),
  ];
}

async function until(isSo: () => boolean): Promise<void> {
  const givesUpAt = performance.now() + patienceMs;
  while (!isSo()) {
    if (performance.now() > givesUpAt) throw new Error("not everybody has come back");
    await pause(20);
  }
}
