/**
 * One document of the shop on this device: its copy in the browser's database, and its connection to the server. Both
 * the floor and the notes of a piece are such a link.
 */
import { IndexeddbPersistence } from "y-indexeddb";
import { WebsocketProvider } from "y-websocket";
import * as Y from "yjs";
import type { InstantMs } from "~/core/units";
import { closeCode, syncPath } from "~/core/wire";
import { type CopyOnDevice, copyOnDevice, rememberCopy } from "./device-database";

const longestPauseMs = 30_000;
const heardKeptEveryMs = 15_000;

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

export type LinkParts = {
  now: () => InstantMs;
  /** Where the socket leads: the address of this site unless told otherwise. */
  origin?: string;
  socket?: typeof WebSocket;
  random?: () => number;
};

/** The provider doubles its pause up to this cap; a cap drawn anew at each loss is the jitter that it lacks. */
export const reconnectPauseMs = (failures: number, random: number): number =>
  Math.min(longestPauseMs, 100 * 2 ** failures) * (0.5 + random / 2);

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
  private readonly listeners = new Set<() => void>();
  private readonly closedListeners = new Set<(because: ClosedBecause) => void>();

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
    this.provider.messageHandlers = this.provider.messageHandlers.map((handle) => (...message) => {
      this.hear();
      handle(...message);
    });
    this.provider.on("status", ({ status }) => this.statusIs(status));
    this.provider.on("sync", () => this.tell());
    this.provider.on("connection-close", () => {
      this.provider.maxBackoffTime = reconnectPauseMs(this.provider.wsUnsuccessfulReconnects + 1, random());
      this.statusIs("disconnected");
    });
    this.provider.on("closed", ({ code }) => this.closedFor(becauseByCode[code] ?? "malformed"));
  }

  /** Reads the copy on this device, then connects. Without a database the document lives as long as the page. */
  async open(hasDatabase: boolean): Promise<void> {
    if (hasDatabase) {
      const before = await copyOnDevice(this.copy.name);
      this.copy = { ...this.copy, ...before };
      this.heard = before?.heardAt;
      await rememberCopy(this.copy);
      if (this.isEnded) return;
      this.persistence = new IndexeddbPersistence(this.copy.name, this.document);
      await this.persistence.whenSynced;
      this.tell();
    }
    if (!this.isEnded) this.provider.connect();
  }

  get connection(): Connection {
    return this.current;
  }

  /** When the server was last heard: how old what is shown may be. */
  get heardAt(): InstantMs | undefined {
    return this.heard;
  }

  /** Has everything that the server had when the connection opened. */
  get isInStep(): boolean {
    return this.provider.synced;
  }

  /** Notes on the device's list whether words wait here for the server. */
  markUnsent(hasUnsent: boolean): void {
    if ((this.copy.hasUnsent ?? false) === hasUnsent) return;
    this.copy = { ...this.copy, hasUnsent };
    this.keepOnList();
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Called when the server closes the room for good. */
  onClosed(listener: (because: ClosedBecause) => void): void {
    this.closedListeners.add(listener);
  }

  reconnect(): void {
    if (!this.isEnded) this.provider.connect();
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
    if (status === "connected") this.say({ state: "live" });
    else if (status === "disconnected" && this.current.state !== "apart") {
      this.say({ state: "apart", sinceAt: this.heard ?? this.parts.now() });
    }
    // while apart, one more attempt is no news
  }

  private closedFor(because: ClosedBecause): void {
    this.say({ state: "closed", because });
    for (const listener of this.closedListeners) listener(because);
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
