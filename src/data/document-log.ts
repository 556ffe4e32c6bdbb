/**
 * Writes what members add to their shared documents: everything that waits, of all rooms, in one statement and so with
 * one flush of the disk. While the disk is busy the next batch collects by itself. One connection is enough, and better
 * than two: a second would only flush the same disk in between.
 */
import pg from "pg";
import type { NewUpdate } from "./documents";
import { env } from "./env";

/** Under which client id of Yjs who writes. */
export type Writer = { clientId: number; memberId: string; deviceId: string };

export type Addition = {
  documentId: string;
  epoch: number;
  updates: readonly NewUpdate[];
  /** Client ids that are new in the document, as far as is known here. */
  writers: readonly Writer[];
  now: number;
};

/**
 * The number of the first update; or nothing was stored, because the document has been founded again, or because another
 * device had taken one of the client ids for its own.
 */
export type Appended = { firstSeq: number } | "refused";

/** One statement carries this much. */
const mostUpdates = 500;
const mostBytes = 1 << 20;
/** What may wait in all: a database that is away must not fill the memory. */
const mostWaitingBytes = 16 << 20;

/** A line that is cut without a word must not keep the rooms waiting for ever. */
const patience = { connectionTimeoutMillis: 5_000, query_timeout: 15_000 };

/** The statement is one and the same, but would be planned anew for each batch: a fifth of the time of a small one. */
const options = "-c plan_cache_mode=force_generic_plan -c jit=off";

type Waiting = Addition & { bytes: number; keep: (appended: Appended) => void; break: (error: unknown) => void };

// Heads are locked in the order of their ids, so that two processes never wait for each other in a circle. Who finds a
// client id taken by somebody else leaves nothing behind.
const statement = `
  WITH asked AS (
    SELECT * FROM unnest($1::uuid[], $2::int[], $3::int[], $4::int[]) AS a(id, epoch, count, bytes)
  ), locked AS MATERIALIZED (
    SELECT d.id FROM "sharedDocument" d JOIN asked ON asked.id = d.id AND asked.epoch = d.epoch ORDER BY d.id FOR UPDATE OF d
  ), wanted AS (
    SELECT w.* FROM unnest($5::uuid[], $6::bigint[], $7::uuid[], $8::uuid[]) AS w(id, client, member, device) JOIN locked USING (id)
  ), owned AS (
    INSERT INTO "documentWriter" AS known ("documentId", "clientId", "memberId", "deviceId")
    SELECT id, client, member, device FROM wanted ORDER BY id, client
    ON CONFLICT ("documentId", "clientId") DO UPDATE SET "memberId" = known."memberId"
      WHERE known."memberId" = excluded."memberId" AND known."deviceId" = excluded."deviceId"
    RETURNING "documentId" AS id
  ), head AS (
    UPDATE "sharedDocument" d SET "lastSeq" = d."lastSeq" + asked.count, "bytes" = d."bytes" + asked.bytes
    FROM locked JOIN asked USING (id)
    WHERE d.id = locked.id AND d.epoch = asked.epoch
      AND (SELECT count(*) FROM wanted WHERE wanted.id = d.id) = (SELECT count(*) FROM owned WHERE owned.id = d.id)
    RETURNING d.id, d.epoch, d."lastSeq" - asked.count AS before
  ), stored AS (
    INSERT INTO "documentUpdate" ("documentId", "epoch", "seq", "update", "memberId", "at")
    SELECT head.id, head.epoch, head.before + u.ordinal, u.update, u.member, u.at
    FROM unnest($9::uuid[], $10::int[], $11::bytea[], $12::uuid[], $13::bigint[]) AS u(id, ordinal, update, member, at)
    JOIN head USING (id)
  )
  SELECT id, before FROM head`;

export class DocumentLog {
  private waiting: Waiting[] = [];
  private waitingBytes = 0;
  private writing: Promise<void> | undefined;
  private client: pg.Client | undefined;
  private isClosed = false;

  /** What the next number of a document will be; where nothing is waited for. */
  private readonly nextSeqs = new Map<string, number>();

  /** @param isDurable false: nothing is waited for, neither database nor disk. For measuring alone */
  constructor(private readonly isDurable = true) {}

  /** Stores updates for good. @throws where it is not known whether they are stored, or too much is waiting already */
  append(addition: Addition): Promise<Appended> {
    const stored = this.enqueue(addition);
    return this.isDurable ? stored : this.foretold(addition, stored);
  }

  private enqueue(addition: Addition): Promise<Appended> {
    const bytes = addition.updates.reduce((sum, { update }) => sum + update.length, 0);
    if (this.isClosed) return Promise.reject(new Error("the log of documents is closed"));
    if (this.waitingBytes + bytes > mostWaitingBytes)
      return Promise.reject(new Error("the log of documents is too far behind"));
    return new Promise((keep, fail) => {
      this.waiting.push({ ...addition, bytes, keep, break: fail });
      this.waitingBytes += bytes;
      // what else arrives in this turn goes along
      this.writing ??= Promise.resolve().then(() => this.write());
    });
  }

  /** The number that it will have: known from the first one on, while nobody else writes. */
  private async foretold({ documentId, epoch, updates }: Addition, stored: Promise<Appended>): Promise<Appended> {
    const name = `${documentId} ${epoch}`;
    const next = this.nextSeqs.get(name);
    const appended = next === undefined ? await stored : { firstSeq: next };
    stored.catch(() => this.nextSeqs.delete(name));
    if (appended !== "refused") this.nextSeqs.set(name, appended.firstSeq + updates.length);
    return appended;
  }

  /** How many additions wait for the disk. */
  get count(): number {
    return this.waiting.length;
  }

  /** Waits for what has been asked; takes no more. */
  async close(): Promise<void> {
    this.isClosed = true;
    await this.writing;
    const { client } = this;
    this.client = undefined;
    await client?.end().catch(() => undefined);
  }

  private async write(): Promise<void> {
    while (this.waiting.length > 0) {
      const batch = this.nextBatch();
      try {
        const found = await this.store(batch);
        for (const one of batch) one.keep(found(one));
      } catch (error) {
        this.hangUp();
        for (const one of batch) one.break(error);
      }
    }
    this.writing = undefined;
  }

  /** In their order, and of one epoch of each document. */
  private nextBatch(): Waiting[] {
    const epochById = new Map<string, number>();
    const batch: Waiting[] = [];
    let [updates, bytes] = [0, 0];
    for (const one of this.waiting) {
      const isMore = batch.length > 0 && (updates + one.updates.length > mostUpdates || bytes + one.bytes > mostBytes);
      if (isMore || (epochById.get(one.documentId) ?? one.epoch) !== one.epoch) break;
      epochById.set(one.documentId, one.epoch);
      batch.push(one);
      updates += one.updates.length;
      bytes += one.bytes;
    }
    this.waiting.splice(0, batch.length);
    this.waitingBytes -= bytes;
    return batch;
  }

  private async store(batch: readonly Waiting[]): Promise<(one: Waiting) => Appended> {
    const documents = byDocument(batch);
    const heads = [...documents.values()];
    const writers = heads.flatMap(({ documentId, writerByClient }) =>
      [...writerByClient.values()].map((writer) => ({ documentId, ...writer })),
    );
    const updates = batch.flatMap((one) =>
      one.updates.map((update, index) => ({
        ...update,
        documentId: one.documentId,
        ordinal: (documents.get(one.documentId)?.offsetOf.get(one) as number) + index + 1,
        at: one.now,
      })),
    );
    const client = await this.connected();
    const { rows } = await client.query<{ id: string; before: number }>({
      name: "append",
      text: statement,
      values: [
        heads.map(({ documentId }) => documentId),
        heads.map(({ epoch }) => epoch),
        heads.map(({ count }) => count),
        heads.map(({ bytes }) => bytes),
        writers.map(({ documentId }) => documentId),
        writers.map(({ clientId }) => clientId),
        writers.map(({ memberId }) => memberId),
        writers.map(({ deviceId }) => deviceId),
        updates.map(({ documentId }) => documentId),
        updates.map(({ ordinal }) => ordinal),
        updates.map(({ update }) => update),
        updates.map(({ memberId }) => memberId ?? null),
        updates.map(({ at }) => at),
      ],
    });
    const beforeById = new Map(rows.map(({ id, before }) => [id, before]));
    return (one) => {
      const before = beforeById.get(one.documentId);
      if (before === undefined) return "refused";
      return { firstSeq: before + 1 + (documents.get(one.documentId)?.offsetOf.get(one) as number) };
    };
  }

  private async connected(): Promise<pg.Client> {
    if (this.client) return this.client;
    const client = new pg.Client({ connectionString: env().DATABASE_URL, keepAlive: true, options, ...patience });
    client.on("error", () => this.hangUp(client));
    await client.connect();
    if (!this.isDurable) await client.query("SET synchronous_commit = off");
    this.client = client;
    return client;
  }

  /** The next batch finds a line of its own. */
  private hangUp(client = this.client): void {
    if (this.client === client) this.client = undefined;
    void client?.end().catch(() => undefined);
  }
}

type DocumentPart = {
  documentId: string;
  epoch: number;
  count: number;
  bytes: number;
  writerByClient: Map<number, Writer>;
  /** How many updates of the same document come before. */
  offsetOf: Map<Waiting, number>;
};

function byDocument(batch: readonly Waiting[]): Map<string, DocumentPart> {
  const parts = new Map<string, DocumentPart>();
  for (const one of batch) {
    const { documentId, epoch } = one;
    const fresh = { documentId, epoch, count: 0, bytes: 0, writerByClient: new Map(), offsetOf: new Map() };
    const part: DocumentPart = parts.get(documentId) ?? fresh;
    part.offsetOf.set(one, part.count);
    part.count += one.updates.length;
    part.bytes += one.bytes;
    for (const writer of one.writers) part.writerByClient.set(writer.clientId, writer);
    parts.set(documentId, part);
  }
  return parts;
}
