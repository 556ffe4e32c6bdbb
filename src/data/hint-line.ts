/**
 * What the processes on one database tell each other, by PostgreSQL's LISTEN and NOTIFY. Only hints: they say that
 * something is there to be read, may be lost, and never carry what has to be kept.
 */
import { setTimeout as pause } from "node:timers/promises";
import pg from "pg";
import { env } from "./env";

const channel = "tackfree";
/** A payload of PostgreSQL ends at 8,000 bytes. */
export const mostHintBytes = 7_500;
const shortestPauseMs = 100;
const longestPauseMs = 5_000;
/** What is to be said soon after something else waits so long for what else there is: asking costs more than saying. */
const betweenSayingsMs = 20;
const patience = { connectionTimeoutMillis: 5_000, query_timeout: 10_000 };

export type HintListener = {
  heard: (payload: string) => void;
  /** The line is there, maybe after a while without it in which everything may have happened. */
  opened: () => void;
  report: (error: unknown) => void;
};

/** A connection of its own that hears and says hints, and comes back by itself. */
export class HintLine {
  private client: pg.Client | undefined;
  private waiting: string[] = [];
  private saying: Promise<void> | undefined;
  private connecting: Promise<void> | undefined;
  private retry: NodeJS.Timeout | undefined;
  private pauseMs = shortestPauseMs;
  private isClosed = false;

  constructor(private readonly listener: HintListener) {}

  /** Begins to listen. @returns when the first attempt is over, whatever came of it */
  open(): Promise<void> {
    this.connecting ??= this.connect().finally(() => {
      this.connecting = undefined;
    });
    return this.connecting;
  }

  /** Says it to everybody; to nobody while there is no line. */
  say(payload: string): void {
    if (Buffer.byteLength(payload) > mostHintBytes) throw new Error(`a hint of ${payload.length} characters`);
    if (!this.client) return;
    this.waiting.push(payload);
    // what else is to be said in this turn goes along
    this.saying ??= Promise.resolve().then(() => this.sayAll());
  }

  async close(): Promise<void> {
    this.isClosed = true;
    clearTimeout(this.retry);
    await this.connecting;
    await this.saying;
    const { client } = this;
    this.client = undefined;
    await client?.end().catch(() => undefined);
  }

  private async sayAll(): Promise<void> {
    while (this.waiting.length > 0 && this.client) {
      const { client } = this;
      const payloads = this.waiting;
      this.waiting = [];
      try {
        await client.query("SELECT pg_notify($1, said) FROM unnest($2::text[]) AS said", [channel, payloads]);
        await pause(betweenSayingsMs);
      } catch (error) {
        this.lost(client, error);
      }
    }
    this.waiting = [];
    this.saying = undefined;
  }

  private async connect(): Promise<void> {
    const client = new pg.Client({ connectionString: env().DATABASE_URL, keepAlive: true, ...patience });
    client.on("error", (error) => this.lost(client, error));
    client.on("end", () => this.lost(client));
    client.on("notification", ({ payload }) => payload !== undefined && this.listener.heard(payload));
    try {
      await client.connect();
      // a hint that is lost with the power is no loss, and nobody is to wait for a disk because of it
      await client.query("SET synchronous_commit = off");
      await client.query(`LISTEN ${channel}`);
    } catch (error) {
      this.lost(client, error);
      return;
    }
    this.client = client;
    this.pauseMs = shortestPauseMs;
    this.listener.opened();
  }

  private lost(client: pg.Client, error?: unknown): void {
    if (this.client === client) this.client = undefined;
    else if (this.client || this.retry !== undefined) return;
    void client.end().catch(() => undefined);
    if (this.isClosed) return;
    if (error) this.listener.report(error);
    clearTimeout(this.retry);
    this.retry = setTimeout(() => {
      this.retry = undefined;
      void this.open();
    }, this.pauseMs);
    this.pauseMs = Math.min(longestPauseMs, 2 * this.pauseMs);
  }
}
