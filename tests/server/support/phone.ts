import WebSocket from "ws";
import * as Y from "yjs";
import { type Frame, readFrame, step1Frame, step2Frame, updateFrame } from "../../../server/messages";

/** A device with one room open: a document, and the protocol of the browser's client without its timers. */
export class Phone {
  readonly doc: Y.Doc;
  readonly heard: Frame[] = [];
  closeCode: number | undefined;
  closeReason = "";
  status: number | undefined;
  private readonly waiting = new Set<() => void>();
  readonly socket: WebSocket;

  /** @param doc what the device has kept from before */
  constructor(url: string, headers: Record<string, string>, doc = new Y.Doc(), { isQuiet = false } = {}) {
    this.doc = doc;
    this.socket = new WebSocket(url, { headers });
    this.socket.on("error", () => this.wake());
    this.socket.on("unexpected-response", (_, response) => {
      this.status = response.statusCode;
      this.socket.terminate();
      this.wake();
    });
    this.socket.on("open", () => {
      if (!isQuiet) this.socket.send(step1Frame(Y.encodeStateVector(this.doc)));
    });
    this.socket.on("message", (data: Buffer) => this.hear(data));
    this.socket.on("close", (code, reason) => {
      this.closeCode = code;
      this.closeReason = reason.toString();
      this.wake();
    });
    this.doc.on("update", this.tell);
  }

  leave(): void {
    this.doc.off("update", this.tell);
    this.socket.terminate();
  }

  send(bytes: Uint8Array | string): void {
    this.socket.send(bytes);
  }

  /** Waits until something is so; looked at whenever anything arrives. */
  async until(isSo: () => boolean): Promise<void> {
    while (!isSo()) await new Promise<void>((resolve) => this.waiting.add(resolve));
  }

  opened = (): Promise<void> =>
    new Promise((resolve) => {
      if (this.socket.readyState === WebSocket.OPEN) resolve();
      else this.socket.once("open", () => resolve());
    });
  synced = (): Promise<void> => this.until(() => this.isOver || this.heard.some(({ kind }) => kind === "step2"));

  get isOver(): boolean {
    return this.closeCode !== undefined || this.status !== undefined;
  }

  async hungUp(): Promise<number | undefined> {
    await this.until(() => this.isOver);
    return this.status ?? this.closeCode;
  }

  rows = <Row = Record<string, unknown>>(table: string): Row[] => [...this.doc.getMap(table).values()] as Row[];
  seq = (): number => this.doc.getMap("meta").get("seq") as number;

  private readonly tell = (update: Uint8Array, origin: unknown): void => {
    if (origin !== this && this.socket.readyState === WebSocket.OPEN) this.socket.send(updateFrame(update));
  };

  private hear(data: Buffer): void {
    const frame = readFrame(data);
    if (!frame) throw new Error(`the server sent a broken frame: ${data.toString("hex", 0, 40)}`);
    if (frame.kind === "step1") this.socket.send(step2Frame(Y.encodeStateAsUpdate(this.doc, frame.stateVector)));
    if (frame.kind === "step2" || frame.kind === "update") Y.applyUpdate(this.doc, frame.update, this);
    this.heard.push(frame);
    this.wake();
  }

  private wake(): void {
    const waiting = [...this.waiting];
    this.waiting.clear();
    for (const resolve of waiting) resolve();
  }
}

/**
 * A phone that has heard all of a room. A machine with much else to do may say 503, and means it: the phone comes again.
 *
 * @throws where it is turned away for another reason
 */
export async function phoneIn(url: string, headers: Record<string, string>): Promise<Phone> {
  for (;;) {
    const phone = new Phone(url, headers);
    await phone.synced();
    if (!phone.isOver) return phone;
    phone.leave();
    if (phone.status !== 503) throw new Error(`${url}: ${phone.status ?? phone.closeCode}`);
  }
}
