import type { InstantMs } from "~/core/units";
import type { Presence } from "~/core/wire";
import { limits } from "~/core/wire-limits";
import type { Connection } from "./connection";
import { type PresenceEntry, presenceFrame, readPresence } from "./messages";

/** Where somebody looks is an id of what they look at; nothing that needs room, or a reader's care. */
const place = /^[a-z0-9:-]+$/;

/** Somebody who has the room open, here or on another server; without a state they are gone. */
export type Present = { clientId: number; state: Presence | null };

type Afar = { state: Presence; clock: number; heardAt: InstantMs };

/**
 * Who is looking where. Each connection speaks for one client id, fixed by its first word, and the server fills in who it
 * is. Whatever else a frame says is passed over rather than punished: honest clients repeat what they heard of others.
 * Nothing is stored, and it is gone with the connection.
 *
 * This is no `Awareness` of y-protocols, which keeps a timer, and a trace of every client id that it ever saw. Clocks are
 * the server's own, for who comes back with the clock that it left with would stay invisible; they go by the time, so that
 * they also grow for somebody who moves from one server to another.
 */
export class PresenceBoard {
  private readonly entryByConnection = new Map<Connection, PresenceEntry>();
  /** By the server that spoke of them, then by client id. */
  private readonly afar = new Map<string, Map<number, Afar>>();
  private readonly listeners = new Set<Connection>();
  /** Client ids of which something else is true since the last telling; those that this server has to tell the others. */
  private readonly changed = new Set<number>();
  private readonly changedHere = new Set<number>();
  private clock: number;

  /**
   * @param now above any clock that an earlier board gave out
   * @param tellOthers what has changed among those who are here
   */
  constructor(
    now: InstantMs,
    private readonly tellOthers: (news: Present[]) => void = () => undefined,
  ) {
    this.clock = now;
  }

  all(): Presence[] {
    return [...this.everybody().values()].map(({ state }) => state as Presence);
  }

  /** Those who are here, for other servers. */
  here(): Present[] {
    return [...this.entryByConnection.values()].map(({ clientId, state }) => ({ clientId, state: state as Presence }));
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
      this.noteHere(own.clientId);
    }
    return true;
  }

  /** Takes what another server says of those who are there. */
  hearAfar(node: string, news: readonly Present[], now: InstantMs): void {
    const known = this.afar.get(node) ?? new Map<number, Afar>();
    for (const { clientId, state } of news) {
      const before = known.get(clientId);
      if (state === null) known.delete(clientId);
      else known.set(clientId, { state, clock: before?.clock ?? 0, heardAt: now });
      this.changed.add(clientId);
    }
    if (known.size > 0) this.afar.set(node, known);
    else this.afar.delete(node);
  }

  /** Forgets whom no server speaks of any more. */
  forgetSilent(now: InstantMs): void {
    for (const [node, known] of this.afar) {
      for (const [clientId, { heardAt }] of known) {
        if (now - heardAt < limits.presenceSilentMs) continue;
        known.delete(clientId);
        this.changed.add(clientId);
      }
      if (known.size === 0) this.afar.delete(node);
    }
  }

  /** From now on this connection is told of everybody. */
  listen(connection: Connection): void {
    if (this.listeners.has(connection)) return;
    this.listeners.add(connection);
    const own = this.entryByConnection.get(connection)?.clientId;
    const others = [...this.everybody().values()].filter(
      ({ clientId }) => clientId !== own && !this.changed.has(clientId),
    );
    if (others.length > 0) connection.send(presenceFrame(others));
  }

  leave(connection: Connection, { isListening } = { isListening: false }): void {
    if (!isListening) this.listeners.delete(connection);
    const entry = this.entryByConnection.get(connection);
    if (!entry) return;
    this.entryByConnection.delete(connection);
    this.noteHere(entry.clientId);
  }

  /** Tells everybody at once what has changed since the last time. */
  flush(now: InstantMs): void {
    if (this.changed.size === 0) return;
    const everybody = this.everybody();
    const news = [...this.changed].map((clientId): PresenceEntry => {
      this.clock = Math.max(this.clock + 1, now);
      const entry = everybody.get(clientId);
      if (entry) entry.clock = this.clock;
      return { clientId, clock: this.clock, state: entry?.state ?? null };
    });
    const forMost = presenceFrame(news);
    for (const listener of this.listeners) {
      // nobody is told of themselves: the client would take it for a newer state of its own
      const own = this.entryByConnection.get(listener)?.clientId;
      const isOwnIn = own !== undefined && this.changed.has(own);
      if (!isOwnIn) listener.send(forMost);
      else if (news.length > 1) listener.send(presenceFrame(news.filter(({ clientId }) => clientId !== own)));
    }
    const here = new Map(this.here().map((entry) => [entry.clientId, entry]));
    const told = [...this.changedHere].map((clientId) => here.get(clientId) ?? { clientId, state: null });
    this.changed.clear();
    this.changedHere.clear();
    if (told.length > 0) this.tellOthers(told);
  }

  private noteHere(clientId: number): void {
    this.changed.add(clientId);
    this.changedHere.add(clientId);
  }

  /** Each client id once: who is here is here, whatever another server still believes. */
  private everybody(): Map<number, PresenceEntry | (Afar & { clientId: number })> {
    const found = new Map<number, PresenceEntry | (Afar & { clientId: number })>();
    for (const known of this.afar.values()) {
      for (const [clientId, entry] of known) {
        const other = found.get(clientId);
        if (!other || (other as Afar).heardAt < entry.heardAt) found.set(clientId, Object.assign(entry, { clientId }));
      }
    }
    for (const entry of this.entryByConnection.values()) found.set(entry.clientId, entry);
    return found;
  }

  /** One entry, of an id that nobody else speaks for; a device that comes back takes its own over. */
  private firstWord(connection: Connection, entries: readonly PresenceEntry[]): PresenceEntry | undefined {
    const [entry, ...more] = entries;
    if (!entry || more.length > 0) return undefined;
    const holder = [...this.entryByConnection].find(([, { clientId }]) => clientId === entry.clientId)?.[0];
    if (!holder) return this.isFreeAfar(connection, entry.clientId) ? entry : undefined;
    if (holder.access.sessionId !== connection.access.sessionId) return undefined;
    this.entryByConnection.delete(holder);
    return entry;
  }

  private isFreeAfar({ access }: Connection, clientId: number): boolean {
    const holders = [...this.afar.values()].flatMap((known) => known.get(clientId)?.state ?? []);
    return holders.every(({ memberId, deviceId }) => memberId === access.memberId && deviceId === access.deviceId);
  }
}

/** Of what a client says, only where it looks; who it is, the session knows. On a shared tablet that is nobody. */
function presenceOf({ access }: Connection, said: unknown): Presence | undefined {
  const { memberId, deviceId } = access;
  if (memberId === undefined || typeof said !== "object") return undefined;
  const { lookingAt } = said as { lookingAt?: unknown };
  const isPlace =
    typeof lookingAt === "string" && lookingAt.length <= limits.lookingAtCharacters && place.test(lookingAt);
  return { memberId, deviceId, ...(isPlace ? { lookingAt } : {}) };
}
