import type { RawData, WebSocket } from "ws";
import { type InstantMs, secondMs } from "~/core/units";
import { closeCode, limits } from "~/core/wire";
import type { Access } from "./access";
import { type Frame, quietFrame, readFrame } from "./messages";
import { Rate } from "./rate";

/** What a connection may send: honest ones stay far below, also after a day apart. */
const frameAllowance = { perSecond: 50, burst: 200 };
const byteAllowance = { perSecond: 256 * 1024, burst: 2 << 20 };
/** Each costs a comparison with the whole document. */
const step1Allowance = { perSecond: 1, burst: 5 };

const pingMs = 20 * secondMs;
const mostMissedPongs = 2;
/** The browser's client gives a line up after 30 s without a message, and does not count pings. */
const quietMs = 12 * secondMs;
/** What may arrive before the room is loaded; the client sends two or three frames, and waits. */
const mostWaitingFrames = 64;

/** WebSocket close codes of RFC 6455 and its registry: the data was of a kind not accepted; try again later. */
const unsupportedData = 1003;
const tryLater = 1013;

export type Listener = { frame(frame: Frame): void; closed(): void };

/**
 * One socket of one session to one room. Whatever arrives is hostile until it has been measured and read; nothing that
 * arrives may throw out of here.
 */
export class Connection {
  private listener: Listener | undefined;
  private waiting: Frame[] = [];
  private held: Buffer[] = [];
  private holds = 0;
  private isClosed = false;
  private distrusts = 0;
  private missedPongs = 0;
  private pingedAt: InstantMs;
  private sentAt: InstantMs;
  private readonly frames: Rate;
  private readonly bytes: Rate;
  private readonly step1s: Rate;
  checkedAt: InstantMs;

  constructor(
    private readonly socket: WebSocket,
    public access: Access,
    private readonly now: () => InstantMs,
    /** Called before anything that arrives is looked at. */
    private readonly awake: () => void = () => undefined,
  ) {
    // the first thing of all: a socket without a listener for errors ends the process at its first broken frame
    socket.on("error", () => socket.terminate());
    socket.on("message", (data, isBinary) => this.receive(data, isBinary));
    socket.on("pong", () => {
      this.missedPongs = 0;
    });
    socket.on("close", () => this.end());
    const at = now();
    this.pingedAt = at;
    this.sentAt = at;
    this.checkedAt = at;
    this.frames = new Rate(frameAllowance, at);
    this.bytes = new Rate(byteAllowance, at);
    this.step1s = new Rate(step1Allowance, at);
  }

  get isOpen(): boolean {
    return !this.isClosed;
  }

  /** From now on frames go to the room, those that came meanwhile first. */
  deliverTo(listener: Listener): void {
    this.listener = listener;
    if (this.isClosed) listener.closed();
    this.deliverWaiting();
  }

  /** What arrives waits until it is known whether this session may still say anything. */
  distrust(known: Promise<void>): void {
    this.distrusts += 1;
    void known.finally(() => {
      this.distrusts -= 1;
      this.deliverWaiting();
    });
  }

  send(frame: Buffer): void {
    if (this.isClosed) return;
    if (this.holds > 0) {
      this.held.push(frame);
      return;
    }
    if (this.socket.bufferedAmount + frame.length > limits.backlogBytes) {
      this.socket.terminate();
      return;
    }
    this.sentAt = this.now();
    this.socket.send(frame);
  }

  /** Nothing more is sent until it is known whether this session may still read: until every hold has been released. */
  hold(): void {
    this.holds += 1;
  }

  release(): void {
    this.holds -= 1;
    if (this.holds > 0) return;
    const held = this.held;
    this.held = [];
    for (const frame of held) this.send(frame);
  }

  close(code: number): void {
    if (this.isClosed) return;
    this.held = [];
    this.socket.close(code);
    this.end();
  }

  /** Called every now and then: keeps the line alive, and ends it where nobody answers. */
  beat(now: InstantMs): void {
    if (this.isClosed) return;
    if (now - this.sentAt >= quietMs) this.send(quietFrame);
    if (now - this.pingedAt < pingMs) return;
    if (this.missedPongs >= mostMissedPongs) {
      this.socket.terminate();
      this.end();
      return;
    }
    this.missedPongs += 1;
    this.pingedAt = now;
    this.socket.ping();
  }

  private receive(data: RawData, isBinary: boolean): void {
    if (this.isClosed) return;
    this.awake();
    const found = isBinary ? this.measured(data as Buffer) : unsupportedData; // a Buffer, unless ws is told otherwise
    if (typeof found === "number") this.close(found);
    else if (this.isWaiting) this.waiting.push(found);
    else this.listener?.frame(found);
  }

  private get isWaiting(): boolean {
    return this.listener === undefined || this.distrusts > 0;
  }

  private deliverWaiting(): void {
    while (!this.isWaiting && !this.isClosed) {
      const frame = this.waiting.shift();
      if (!frame) return;
      this.listener?.frame(frame);
    }
  }

  /** The frame in a message, or the code with which the line ends. */
  private measured(bytes: Buffer): Frame | number {
    if (bytes.length > limits.frameBytes) return closeCode.tooLarge;
    const now = this.now();
    if (!this.frames.take(1, now) || !this.bytes.take(bytes.length, now)) return tryLater;
    const frame = readFrame(bytes);
    if (!frame) return closeCode.malformed;
    if (frame.kind === "step1" && !this.step1s.take(1, now)) return tryLater;
    return this.isWaiting && this.waiting.length >= mostWaitingFrames ? tryLater : frame;
  }

  /** Also when this side closes: the other may take its time, and is no longer counted. */
  private end(): void {
    if (this.isClosed) return;
    this.isClosed = true;
    this.waiting = [];
    this.held = [];
    this.listener?.closed();
  }
}
