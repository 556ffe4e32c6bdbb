import { type InstantMs, secondMs } from "~/core/units";
import { limits, type Presence } from "~/core/wire";
import type { Connection } from "./connection";
import { type PresenceEntry, presenceFrame, readPresence } from "./messages";

/** Long enough for a UUID and a word before it. */
const mostLookingAtCharacters = 120;

/**
 * Who is looking where. Each connection speaks for one client id, fixed by its first word, and the server fills in who it
 * is. Whatever else a frame says is passed over rather than punished: honest clients repeat what they heard of others.
 * Nothing is stored, and it is gone with the connection.
 *
 * This is no `Awareness` of y-protocols, which keeps a timer, and a trace of every client id that it ever saw. Clocks are
 * the server's own, for who comes back with the clock that it left with would stay invisible.
 */
export class PresenceBoard {
  private readonly entryByConnection = new Map<Connection, PresenceEntry>();
  private readonly listeners = new Set<Connection>();
  private readonly changed = new Set<Connection>();
  private gone: PresenceEntry[] = [];
  private clock: number;

  /** Starts above any clock that an earlier board gave out. */
  constructor(now: InstantMs) {
    this.clock = Math.floor(now / secondMs);
  }

  all(): Presence[] {
    return [...this.entryByConnection.values()].map(({ state }) => state as Presence);
  }

  /** Takes what a connection says of itself. @returns false where the bytes are broken */
  hear(connection: Connection, bytes: Uint8Array): boolean {
    const entries = readPresence(bytes);
    if (!entries) return false;
    this.listen(connection);
    const bound = this.entryByConnection.get(connection);
    const own = bound
      ? entries.find(({ clientId }) => clientId === bound.clientId)
      : this.firstWord(connection, entries);
    if (!own) return true;
    if (own.state === null) this.leave(connection, { isListening: true });
    else {
      const state = presenceOf(connection, own.state);
      if (!state) return true;
      this.entryByConnection.set(connection, { clientId: own.clientId, clock: 0, state });
      this.changed.add(connection);
    }
    return true;
  }

  /** From now on this connection is told of everybody. */
  listen(connection: Connection): void {
    if (this.listeners.has(connection)) return;
    this.listeners.add(connection);
    const others = [...this.entryByConnection].filter(([other]) => other !== connection && !this.changed.has(other));
    if (others.length > 0) connection.send(presenceFrame(others.map(([, entry]) => entry)));
  }

  leave(connection: Connection, { isListening } = { isListening: false }): void {
    if (!isListening) this.listeners.delete(connection);
    const entry = this.entryByConnection.get(connection);
    if (!entry) return;
    this.entryByConnection.delete(connection);
    this.changed.delete(connection);
    this.gone.push({ ...entry, state: null });
  }

  /** Tells everybody at once what has changed since the last time. */
  flush(): void {
    if (this.changed.size === 0 && this.gone.length === 0) return;
    for (const entry of this.gone) entry.clock = this.tick();
    for (const connection of this.changed) {
      const entry = this.entryByConnection.get(connection);
      if (entry) entry.clock = this.tick();
    }
    const newsFor = (listener?: Connection) => [
      ...this.gone,
      ...[...this.changed].flatMap((connection) =>
        connection === listener ? [] : (this.entryByConnection.get(connection) ?? []),
      ),
    ];
    const forMost = presenceFrame(newsFor());
    for (const listener of this.listeners) {
      // nobody is told of themselves: the client would take it for a newer state of its own
      listener.send(this.changed.has(listener) ? presenceFrame(newsFor(listener)) : forMost);
    }
    this.gone = [];
    this.changed.clear();
  }

  private tick(): number {
    this.clock += 1;
    return this.clock;
  }

  /** One entry, of an id that nobody else speaks for; a device that comes back takes its own over. */
  private firstWord(connection: Connection, entries: readonly PresenceEntry[]): PresenceEntry | undefined {
    const [entry, ...more] = entries;
    if (!entry || more.length > 0) return undefined;
    const holder = [...this.entryByConnection].find(([, { clientId }]) => clientId === entry.clientId)?.[0];
    if (!holder) return entry;
    if (holder.access.sessionId !== connection.access.sessionId) return undefined;
    this.entryByConnection.delete(holder);
    this.changed.delete(holder);
    return entry;
  }
}

/** Of what a client says, only where it looks; who it is, the session knows. On a shared tablet that is nobody. */
function presenceOf({ access }: Connection, said: unknown): Presence | undefined {
  const { memberId, deviceId } = access;
  if (memberId === undefined || typeof said !== "object" || JSON.stringify(said).length > limits.presenceBytes) {
    return undefined;
  }
  const { lookingAt } = said as { lookingAt?: unknown };
  const isPlace = typeof lookingAt === "string" && lookingAt.length <= mostLookingAtCharacters;
  return { memberId, deviceId, ...(isPlace ? { lookingAt } : {}) };
}
