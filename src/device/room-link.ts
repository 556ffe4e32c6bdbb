/**
 * One document of the shop on this device: its copy in the browser's database, and its connection to the server. Both
 * the floor and the notes of a piece are such a link.
 */
import * as decoding from "lib0/decoding";
import { IndexeddbPersistence } from "y-indexeddb";
import { WebsocketProvider } from "y-websocket";
import * as Y from "yjs";
import { type InstantMs, secondMs } from "~/core/units";
import { closeCode, epochIn, message, syncMessage, syncPath } from "~/core/wire";
import { AtServer } from "./at-server";
import { type CopyOnDevice, copyOnDevice, rememberCopy } from "./device-database";

const longestPauseMs = 30 * secondMs;
const heardKeptEveryMs = 15 * secondMs;
/** The server says something every 12 s at least: a line that was silent for so long, while the phone slept, is dead. */
const deadLineMs = 25 * secondMs;

/** Why the server closed the room for good. */
export type ClosedBecause = "session-over" | "no-right" | "no-such-room" | "other-epoch" | "malformed" | "too-large";

export type Connection =
  | { state: "connecting" }
  | { state: "live" }
  | { state: "apart"; sinceAt: InstantMs }
  | { state: "closed"; because: ClosedBecause };

const becauseByCode: Record<number, ClosedBecause> = {
  [closeCode.sessionOver]: "session-over",
  [closeCode.noRight]: "no-right",
  [closeCode.noSuchRoom]: "no-such-room",
  [closeCode.otherEpoch]: "other-epoch",
  [closeCode.tooLarge]: "too-large",
};

/** `epoch`: under which the document lives now, if the server said so. */
export type ClosedListener = (because: ClosedBecause, epoch?: number) => void;

export type LinkParts = {
  now: () => InstantMs;
  /** Where the socket leads: the address of this site unless told otherwise. */
  origin?: string;
  socket?: typeof WebSocket;
  random?: () => number;
};

/**
 * The provider doubles its pause up to this cap; a cap drawn anew at each loss, from all that is below, is the jitter that
 * it lacks: two hundred devices of a server that was started again come back spread over the whole of the pause.
 */
export const reconnectPauseMs = (failures: number, random: number): number =>
  Math.min(longestPauseMs, 100 * 2 ** failures) * random;

const socketOrigin = () => location.origin.replace(/^http/, "ws");

export class RoomLink {
  readonly document = new Y.Doc();
  readonly provider: WebsocketProvider;
  private current: Connection = { state: "connecting" };
  private heard: InstantMs | undefined;
  private heardKeptAt = 0;
  private persistence: IndexeddbPersistence | undefined;
  private keeping: Promise<unknown> = Promise.resolve();
  private isEnded = false;
  private wroteSinceOpen = false;
  private readonly atServer = new AtServer();
  private readonly listeners = new Set<() => void>();
  private readonly closedListeners = new Set<ClosedListener>();

  constructor(
    room: string,
    private copy: CopyOnDevice,
    private readonly parts: LinkParts,
  ) {
    const { origin = socketOrigin(), socket, random = Math.random } = parts;
    this.provider = new WebsocketProvider(`${origin}${syncPath}`, room, this.document, {
      connect: false,
      disableBc: true,
      maxBackoffTime: longestPauseMs,
      ...(socket ? { WebSocketPolyfill: socket } : {}),
    });
    this.provider.messageHandlers = this.provider.messageHandlers.map((handle, kind) => (...heard) => {
      this.hear();
      const [, decoder] = heard;
      const said = kind === message.sync && this.copy.kind === "notes" ? decoding.clone(decoder) : undefined;
      handle(...heard);
      if (said) this.takeNote(said);
    });
    this.provider.on("status", ({ status }) => this.statusIs(status));
    this.provider.on("sync", () => this.tell());
    this.provider.on("connection-close", () => {
      this.provider.maxBackoffTime = reconnectPauseMs(this.provider.wsUnsuccessfulReconnects + 1, random());
      this.statusIs("disconnected");
    });
    this.provider.on("closed", ({ code, reason }) =>
      this.closedFor(becauseByCode[code] ?? "malformed", epochIn(reason ?? "")),
    );
    this.document.on("update", (_: Uint8Array, origin: unknown) => {
      if (origin === this.provider || (this.persistence !== undefined && origin === this.persistence)) return;
      this.wroteSinceOpen = true;
      this.markUnsent(true);
    });
  }

  /** Reads the copy on this device, then connects. Without a database the document lives as long as the page. */
  async open(hasDatabase: boolean): Promise<void> {
    if (hasDatabase) await this.readCopy();
    if (!this.isEnded) this.provider.connect();
  }

  get connection(): Connection {
    return this.current;
  }

  /** When the server was last heard: how old what is shown may be. */
  get heardAt(): InstantMs | undefined {
    return this.heard;
  }

  /** The name of its database. */
  get name(): string {
    return this.copy.name;
  }

  /** Words were written here since the line last opened: the server cannot have asked for them yet. */
  get hasWritten(): boolean {
    return this.wroteSinceOpen;
  }

  /** Words wait here that the server is not known to have. */
  get hasUnsent(): boolean {
    return this.copy.hasUnsent ?? false;
  }

  /** Has everything that the server had when the connection opened. */
  get isInStep(): boolean {
    return this.provider.synced;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Called when the server closes the room for good. */
  onClosed(listener: ClosedListener): void {
    this.closedListeners.add(listener);
  }

  /** Now, without waiting for the end of a pause; a line that has died unnoticed is given up for a new one. */
  reconnect(): void {
    if (this.isEnded) return;
    const isDead = this.provider.wsconnected && this.parts.now() - (this.heard ?? 0) > deadLineMs;
    if (isDead) this.provider.disconnect();
    this.provider.connect();
  }

  /** Provider, copy, document: in this order, or the last words of one are written by the other. */
  async end(): Promise<void> {
    this.isEnded = true;
    this.listeners.clear();
    this.closedListeners.clear();
    this.provider.destroy();
    await this.keeping;
    await this.persistence?.destroy();
    this.document.destroy();
  }

  private statusIs(status: "connected" | "connecting" | "disconnected"): void {
    if (status === "connected") {
      this.wroteSinceOpen = false;
      this.atServer.forget();
      this.say({ state: "live" });
    } else if (status === "disconnected" && this.current.state !== "apart") {
      this.say({ state: "apart", sinceAt: this.heard ?? this.parts.now() });
    }
    // while apart, one more attempt is no news
  }

  private closedFor(because: ClosedBecause, epoch?: number): void {
    this.say({ state: "closed", because });
    for (const listener of this.closedListeners) listener(because, epoch);
  }

  /** Without the copy, because the browser's store fails, the document still comes from the server. */
  private async readCopy(): Promise<void> {
    try {
      const before = await copyOnDevice(this.copy.name);
      this.copy = { ...this.copy, ...before };
      this.heard = before?.heardAt;
      await rememberCopy(this.copy);
      if (this.isEnded) return;
      this.persistence = new IndexeddbPersistence(this.copy.name, this.document);
      await this.persistence.whenSynced;
    } catch (error) {
      this.persistence = undefined;
      console.error("the copy on this device does not open", error);
    }
    this.tell();
  }

  private takeNote(said: decoding.Decoder): void {
    const kind = decoding.readVarUint(said);
    const bytes = decoding.readVarUint8Array(said);
    if (kind === syncMessage.step1) this.atServer.takeVector(bytes);
    else this.atServer.takeUpdate(bytes);
    if (this.hasUnsent && this.isInStep) this.markUnsent(!this.atServer.has(this.document));
  }

  private markUnsent(hasUnsent: boolean): void {
    if (this.copy.kind !== "notes" || this.hasUnsent === hasUnsent) return;
    this.copy = { ...this.copy, hasUnsent };
    this.keepOnList();
    this.tell();
  }

  private hear(): void {
    this.heard = this.parts.now();
    if (this.heard - this.heardKeptAt < heardKeptEveryMs) return;
    this.heardKeptAt = this.heard;
    this.copy = { ...this.copy, heardAt: this.heard };
    this.keepOnList();
  }

  private keepOnList(): void {
    const { copy } = this;
    if (this.persistence) this.keeping = this.keeping.then(() => rememberCopy(copy));
  }

  private say(connection: Connection): void {
    this.current = connection;
    this.tell();
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }
}
