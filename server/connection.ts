import type { RawData, WebSocket } from "ws";
import { type InstantMs, secondMs } from "~/core/units";
import { closeCode } from "~/core/wire";
import { limits } from "~/core/wire-limits";
import type { Access } from "./access";
import { type Frame, quietFrame, readFrame } from "./messages";
import { figures } from "./metrics/figures";
import { Rate, type ShopPace } from "./rate";

/** WebSocket close codes of RFC 6455 and its registry: a kind of data not accepted; a fault here; try again later. */
const unsupportedData = 1003;
const ownFault = 1011;
const tryLater = 1013;

export type Listener = { frame(frame: Frame): void; closed(): void };

export type Surroundings = {
  now: () => InstantMs;
  /** What all of this shop send together. */
  shop: ShopPace;
  report: (error: unknown) => void;
  /** Called before anything that arrives is looked at. */
  awake?: () => void;
};

/**
 * One socket of one session to one room. Whatever arrives is hostile until it has been sized, counted and read; nothing
 * that arrives may throw out of here. What is sent waits for nobody: who does not read falls behind, and is cut off.
 */
export class Connection {
  private listener: Listener | undefined;
  private waiting: Frame[] = [];
  private held: Buffer[] = [];
  private heldBytes = 0;
  private holds = 0;
  private isClosed = false;
  private distrusts = 0;
  private missedPongs = 0;
  private pingedAt: InstantMs;
  private sentAt: InstantMs;
  private behindSince: InstantMs | undefined;
  /** So long the last answer may take. */
  private patientUntil: InstantMs;
  private isPaused = false;
  private readonly frames: Rate;
  private readonly bytes: Rate;
  private readonly step1s: Rate;
  checkedAt: InstantMs;

  constructor(
    private readonly socket: WebSocket,
    public access: Access,
    private readonly around: Surroundings,
  ) {
    // the first thing of all: a socket without a listener for errors ends the process at its first broken frame
    socket.on("error", (error) => this.fail(error));
    socket.on("message", (data, isBinary) => this.guarded(() => this.receive(data, isBinary)));
    socket.on("pong", () => {
      this.missedPongs = 0;
    });
    socket.on("close", () => this.guarded(() => this.end()));
    const at = around.now();
    this.pingedAt = at;
    this.sentAt = at;
    this.patientUntil = at;
    this.checkedAt = at;
    this.frames = new Rate(around.shop.most.framesOfConnection, at);
    this.bytes = new Rate(around.shop.most.bytesOfConnection, at);
    this.step1s = new Rate(limits.step1OfConnection, at);
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
    if (this.socket.bufferedAmount + this.heldBytes >= limits.backlogBytes) {
      figures.slowReader();
      this.cut();
    } else if (this.holds > 0) {
      this.held.push(frame);
      this.heldBytes += frame.length;
    } else {
      this.sentAt = this.around.now();
      this.socket.send(frame);
    }
  }

  /** Sends what was asked for, however large: a poor line gets the time for it. */
  answer(frame: Buffer): void {
    const bytes = this.socket.bufferedAmount + frame.length;
    this.patientUntil = this.around.now() + (bytes / limits.slowLineBytesPerSecond) * secondMs;
    this.send(frame);
  }

  /** Has so much to read that nothing more is to be sent. */
  get isBehind(): boolean {
    return this.socket.bufferedAmount > limits.behindBytes;
  }

  get hasCaughtUp(): boolean {
    return this.socket.bufferedAmount <= limits.caughtUpBytes;
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
    this.heldBytes = 0;
    for (const frame of held) this.send(frame);
  }

  close(code: number, reason = ""): void {
    if (this.isClosed) return;
    this.held = [];
    figures.socketClosed(code);
    this.socket.close(code, reason);
    this.end();
  }

  /** Called every now and then: keeps the line alive, and ends it where nobody answers or reads. */
  beat(now: InstantMs): void {
    if (this.isClosed) return;
    this.readOn(now);
    if (this.isBehind) this.behindSince ??= now;
    else this.behindSince = undefined;
    // behind a long answer a ping waits as well
    if (this.isBehind && now < this.patientUntil) return;
    const isSlow = this.behindSince !== undefined && now - this.behindSince >= limits.behindMs;
    const isDue = now - this.pingedAt >= limits.pingMs;
    if (isSlow) figures.slowReader();
    if (isSlow || (isDue && this.missedPongs >= limits.missedPongs)) this.cut();
    else {
      if (now - this.sentAt >= limits.quietMs) this.send(quietFrame);
      if (isDue) this.ping(now);
    }
  }

  private ping(now: InstantMs): void {
    this.missedPongs += 1;
    this.pingedAt = now;
    this.socket.ping();
  }

  private receive(data: RawData, isBinary: boolean): void {
    if (this.isClosed) return;
    this.around.awake?.();
    const found = isBinary ? this.frameIn(data as Buffer) : unsupportedData; // a Buffer, unless ws is told otherwise
    if (typeof found === "number") {
      figures.frameRefused(found);
      this.close(found);
    } else if (this.isWaiting) this.waiting.push(found);
    else this.listener?.frame(found);
  }

  /** The frame in a message, or the code with which the line ends: sized, counted, then read. */
  private frameIn(bytes: Buffer): Frame | number {
    if (bytes.length > limits.frameBytes) return closeCode.tooLarge;
    const now = this.around.now();
    if (!this.frames.take(1, now) || !this.bytes.take(bytes.length, now)) return tryLater;
    this.countForShop(bytes.length, now);
    const frame = readFrame(bytes);
    if (!frame) return closeCode.malformed;
    if (frame.kind === "step1" && !this.step1s.take(1, now)) return tryLater;
    return this.isWaiting && this.waiting.length >= limits.waitingFrames ? tryLater : frame;
  }

  /** Where a shop sends more than is good for the others, the network keeps it for a while. */
  private countForShop(byteCount: number, now: InstantMs): void {
    const { shop } = this.around;
    shop.take(byteCount, now);
    if (!shop.isOver(now)) return;
    this.isPaused = true;
    this.socket.pause();
  }

  private readOn(now: InstantMs): void {
    if (!this.isPaused || this.around.shop.isOver(now)) return;
    this.isPaused = false;
    this.socket.resume();
  }

  private get isWaiting(): boolean {
    return this.listener === undefined || this.distrusts > 0;
  }

  private deliverWaiting(): void {
    this.guarded(() => {
      while (!this.isWaiting && !this.isClosed) {
        const frame = this.waiting.shift();
        if (!frame) return;
        this.listener?.frame(frame);
      }
    });
  }

  /** A fault here is reported and ends this line; the others go on. */
  private guarded(work: () => void): void {
    try {
      work();
    } catch (error) {
      this.around.report(error);
      this.guarded(() => this.close(ownFault));
    }
  }

  /** The library has said goodbye already to whom it can; a message that was too large is told so, anything else is cut. */
  private fail(error: Error & { code?: string }): void {
    if (error.code === "WS_ERR_UNSUPPORTED_MESSAGE_LENGTH") this.guarded(() => this.end());
    else this.cut();
  }

  private cut(): void {
    this.socket.terminate();
    this.guarded(() => this.end());
  }

  /** Also when this side closes: the other may take its time, and is no longer counted. */
  private end(): void {
    if (this.isClosed) return;
    this.isClosed = true;
    this.waiting = [];
    this.held = [];
    if (this.isPaused) this.socket.resume(); // or its goodbye is never read
    this.listener?.closed();
  }
}
