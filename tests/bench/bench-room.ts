/**
 * Devices in one room that read frames and count what is in them, and keep no document: two hundred documents in one
 * process would be all that is measured. What several of them get alike is taken apart once.
 */
import { once } from "node:events";
import WebSocket from "ws";
import * as Y from "yjs";
import { readFrame, step1Frame, step2Frame } from "../../server/messages";
import { Hand } from "./hand";

/** An update of a device has arrived at another one: the one with this number, counted from 0. */
export type Arrival = { writer: number; number: number; reader: number };

/** Where a frame says that a device has written from one of its clocks to another. */
type Stretch = { client: number; from: number; to: number };

const keptFrames = 16;
const nothing = new Uint8Array([0, 0]);
/** A document without anything in it. */
const emptyVector = new Uint8Array([0]);

export type RoomSettings = { url: string; headers: (reader: number) => Record<string, string>; readers: number };

export class BenchRoom {
  readonly hands: Hand[];
  private readonly numberByClient: Map<number, number>;
  private sockets: WebSocket[] = [];
  private taken: { bytes: Buffer; stretches: Stretch[] }[] = [];
  arrived: (arrival: Arrival) => void = () => undefined;

  constructor(
    private readonly settings: RoomSettings,
    lettersEach: number,
  ) {
    this.hands = Array.from({ length: settings.readers }, () => new Hand(lettersEach));
    this.numberByClient = new Map(this.hands.map(({ clientId }, number) => [clientId, number]));
  }

  /** All come in, and each writes its brackets. @param isBare there is nobody who answers */
  async open(isBare: boolean): Promise<void> {
    for (let reader = 0; reader < this.settings.readers; reader += 1) await this.connect(reader, isBare);
    let left = this.hands.length * (this.hands.length - 1);
    await new Promise<void>((resolve) => {
      this.arrived = () => {
        left -= 1;
        if (left === 0) resolve();
      };
      for (const writer of this.hands.keys()) this.write(writer);
    });
    this.arrived = () => undefined;
  }

  write(writer: number): void {
    this.sockets[writer]?.send((this.hands[writer] as Hand).next());
  }

  async close(): Promise<void> {
    const gone = this.sockets.map((socket) => once(socket, "close"));
    for (const socket of this.sockets) socket.terminate();
    await Promise.all(gone);
  }

  private async connect(reader: number, isBare: boolean): Promise<void> {
    const { url, headers } = this.settings;
    const socket = new WebSocket(url, { headers: headers(reader), perMessageDeflate: false });
    this.sockets[reader] = socket;
    let isIn: () => void = () => undefined;
    const inside = new Promise<void>((resolve, reject) => {
      isIn = resolve;
      socket.on("unexpected-response", (_, { statusCode }) => reject(new Error(`${url}: ${statusCode}`)));
      socket.on("close", (code) => reject(new Error(`${url}: ${code}`)));
    });
    socket.on("message", (bytes: Buffer) => {
      if (this.hear(bytes, reader) === "step2") isIn();
    });
    await once(socket, "open");
    if (isBare) isIn();
    else socket.send(step1Frame(emptyVector));
    await inside;
  }

  private hear(bytes: Buffer, reader: number): string | undefined {
    const known = this.taken.find((one) => one.bytes.equals(bytes));
    const stretches = known?.stretches ?? this.takeApart(bytes, reader);
    if (!stretches) return "step2";
    for (const { client, from, to } of stretches) {
      const writer = this.numberByClient.get(client);
      if (writer === undefined || writer === reader) continue;
      const { updatesBefore } = this.hands[writer] as Hand;
      const end = updatesBefore(to);
      for (let number = updatesBefore(from); number < end; number += 1) this.arrived({ writer, number, reader });
    }
    return undefined;
  }

  private takeApart(bytes: Buffer, reader: number): Stretch[] | undefined {
    const frame = readFrame(bytes);
    if (frame?.kind === "step1") this.sockets[reader]?.send(step2Frame(nothing));
    if (frame?.kind === "step2") return undefined; // before anybody has written
    if (frame?.kind !== "update") return [];
    const { from, to } = Y.parseUpdateMeta(frame.update);
    const stretches = [...to].map(([client, end]) => ({ client, from: from.get(client) ?? 0, to: end }));
    this.taken = [{ bytes, stretches }, ...this.taken.slice(0, keptFrames - 1)];
    return stretches;
  }
}
