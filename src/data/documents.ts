/** Shared documents as a log of updates with a snapshot, in epochs: old copies never bring old values back. */
import { randomUUID } from "node:crypto";
import { database, type Transaction } from "./db";
import type { Writer } from "./document-log";

export type DocumentKind = "floor" | "notes";
export type DocumentName = { shopId: string; kind: DocumentKind; subjectId: string };
export type DocumentHead = { documentId: string; epoch: number; lastSeq: number; snapshotSeq: number; bytes: number };

type StoredHead = { id: string; epoch: number; lastSeq: number; snapshotSeq: number; bytes: number };
const headOf = ({ id, epoch, lastSeq, snapshotSeq, bytes }: StoredHead): DocumentHead => ({
  documentId: id,
  epoch,
  lastSeq,
  snapshotSeq,
  bytes,
});

/** The document of this name, made empty where there is none yet. */
export async function ensureDocument(name: DocumentName, tx: Transaction = database()): Promise<DocumentHead> {
  await tx.sharedDocument.createMany({ data: [{ id: randomUUID(), ...name }], skipDuplicates: true });
  return headOf(await tx.sharedDocument.findUniqueOrThrow({ where: { shopId_kind_subjectId: name } }));
}

export type NewUpdate = { update: Uint8Array<ArrayBuffer>; memberId?: string };

/**
 * Appends updates, all in one statement. Undefined where the document has been founded again meanwhile: they were made
 * against an epoch that is over. What members write together goes through the log of src/data/document-log.ts instead.
 *
 * @returns the number of the first of them
 */
export async function appendUpdates(
  {
    documentId,
    epoch,
    updates,
    now,
  }: { documentId: string; epoch: number; updates: readonly NewUpdate[]; now: number },
  tx: Transaction = database(),
): Promise<number | undefined> {
  const size = updates.reduce((sum, { update }) => sum + update.length, 0);
  const rows = updates.map(({ update, memberId }, ordinal) => ({
    ordinal,
    // as PostgreSQL writes bytes; lists of bytes are no parameter of this client
    update: `\\x${Buffer.from(update).toString("hex")}`,
    memberId,
  }));
  const [head] = await tx.$queryRaw<{ firstSeq: number }[]>`
    WITH head AS (
      UPDATE "sharedDocument" SET "lastSeq" = "lastSeq" + ${updates.length}::int, "bytes" = "bytes" + ${size}::int
      WHERE "id" = ${documentId}::uuid AND "epoch" = ${epoch}::int
      RETURNING "lastSeq" - ${updates.length}::int + 1 AS "firstSeq"
    ), stored AS (
      INSERT INTO "documentUpdate" ("documentId", "epoch", "seq", "update", "memberId", "at")
      SELECT ${documentId}::uuid, ${epoch}::int, head."firstSeq" + u."ordinal", u."update", u."memberId", ${now}::bigint
      FROM head, json_to_recordset(${JSON.stringify(rows)}::json) AS u("ordinal" int, "update" bytea, "memberId" uuid)
    )
    SELECT "firstSeq" FROM head`;
  return head?.firstSeq;
}

export type StoredDocument = DocumentHead & { snapshot?: Uint8Array; updates: { seq: number; update: Uint8Array }[] };

/** The snapshot and the updates after it, of one moment. */
export async function readDocument(documentId: string): Promise<StoredDocument> {
  const stored = await database().$transaction(
    async (tx) => {
      const head = await tx.sharedDocument.findUniqueOrThrow({ where: { id: documentId } });
      const updates = await tx.documentUpdate.findMany({
        where: { documentId, epoch: head.epoch, seq: { gt: head.snapshotSeq } },
        orderBy: { seq: "asc" },
        select: { seq: true, update: true },
      });
      return { head, updates };
    },
    { isolationLevel: "RepeatableRead" },
  );
  const { head, updates } = stored;
  return { ...headOf(head), ...(head.snapshot ? { snapshot: head.snapshot } : {}), updates };
}

export type LaterUpdates = { epoch: number; lastSeq: number; updates: Uint8Array[] };

/**
 * What a copy lacks that has everything up to a number: the updates after it or, where the log no longer reaches back that
 * far, the whole document once more. Nothing of an epoch that is over: then the copy is to be thrown away.
 */
export async function updatesAfter(
  { documentId, epoch, lastSeq }: { documentId: string; epoch: number; lastSeq: number },
  tx: Transaction = database(),
): Promise<LaterUpdates> {
  const rows = await tx.$queryRaw<{ epoch: number; lastSeq: number; seq: number | null; update: Uint8Array | null }[]>`
    SELECT head."epoch", head."lastSeq", later."seq", later."update" FROM "sharedDocument" head
    LEFT JOIN "documentUpdate" later ON later."documentId" = head."id" AND later."epoch" = head."epoch"
      AND later."epoch" = ${epoch}::int AND later."seq" > ${lastSeq}::int
    WHERE head."id" = ${documentId}::uuid ORDER BY later."seq"`;
  const [head] = rows;
  if (!head) throw new Error(`no document ${documentId}`);
  if (head.epoch !== epoch || head.lastSeq <= lastSeq) return { epoch: head.epoch, lastSeq: head.lastSeq, updates: [] };
  if (head.seq === lastSeq + 1 && rows.length === head.lastSeq - lastSeq) {
    return { epoch, lastSeq: head.lastSeq, updates: rows.flatMap(({ update }) => update ?? []) };
  }
  const { snapshot, updates, ...whole } = await readDocument(documentId);
  return { ...whole, updates: [...(snapshot ? [snapshot] : []), ...updates.map(({ update }) => update)] };
}

/** Who has written in a document under which client ids. */
export async function writersOf(documentId: string): Promise<Writer[]> {
  const stored = await database().documentWriter.findMany({ where: { documentId } });
  return stored.map(({ clientId, memberId, deviceId }) => ({ clientId: Number(clientId), memberId, deviceId }));
}

/** So long an update stays behind a snapshot, for other processes that are about to read it: they look every 2 s. */
export const keptBehindSnapshotMs = 10_000;

export type NewSnapshot = {
  documentId: string;
  epoch: number;
  snapshotSeq: number;
  state: Uint8Array<ArrayBuffer>;
  now: number;
  /** Does what the database gives back hold the same? Until then nothing is dropped. */
  isWhole: (stored: Uint8Array) => boolean;
};

/**
 * Stores a snapshot unless a later one is there already, reads it once more, and drops the updates that it holds, those
 * of the last seconds excepted.
 *
 * @throws where the database gives something else back; then nothing has changed
 */
export async function storeSnapshot(snapshot: NewSnapshot): Promise<boolean> {
  const { documentId, epoch, snapshotSeq, state, now, isWhole } = snapshot;
  return database().$transaction(async (tx) => {
    const [stored] = await tx.$queryRaw<{ snapshot: Uint8Array }[]>`
      UPDATE "sharedDocument" SET "snapshot" = ${state}, "snapshotSeq" = ${snapshotSeq}::int, "bytes" = ${state.length}::int + (
        SELECT coalesce(sum(length("update")), 0)::int FROM "documentUpdate"
        WHERE "documentId" = ${documentId}::uuid AND "epoch" = ${epoch}::int AND "seq" > ${snapshotSeq}::int)
      WHERE "id" = ${documentId}::uuid AND "epoch" = ${epoch}::int AND "snapshotSeq" < ${snapshotSeq}::int
      RETURNING "snapshot"`;
    if (!stored) return false;
    if (!isWhole(stored.snapshot)) throw new Error(`the snapshot of ${documentId} came back as something else`);
    // never a hole: clocks of several processes differ, so that a later update may have been made "before"
    await tx.$executeRaw`
      DELETE FROM "documentUpdate"
      WHERE "documentId" = ${documentId}::uuid AND "epoch" = ${epoch}::int AND "seq" <= ${snapshotSeq}::int
        AND "seq" < coalesce((
          SELECT min("seq") FROM "documentUpdate" WHERE "documentId" = ${documentId}::uuid AND "epoch" = ${epoch}::int
            AND "at" >= ${now - keptBehindSnapshotMs}::bigint), ${snapshotSeq}::int + 1)`;
    return true;
  });
}

export type NewEpoch = {
  documentId: string;
  /** The one that ends. */
  epoch: number;
  state: Uint8Array<ArrayBuffer>;
  /** Where the old epoch must still stand; what has been added since would be missing in the new one. */
  lastSeq?: number;
  /** What the old epoch held at its end, for devices that come back to it. Absent where none may have written in it. */
  last?: { state: Uint8Array<ArrayBuffer>; now: number };
};

/** Begins a new epoch. @returns its number; undefined where the old one is over already, or has moved on */
export async function foundAgain(asked: NewEpoch, tx?: Transaction): Promise<number | undefined> {
  if (!tx) return database().$transaction((own) => foundAgain(asked, own));
  const { documentId, epoch, state, lastSeq, last } = asked;
  const fresh = { epoch: epoch + 1, lastSeq: 0, snapshotSeq: 0, snapshot: state, bytes: state.length };
  const where = { id: documentId, epoch, ...(lastSeq === undefined ? {} : { lastSeq }) };
  const { count } = await tx.sharedDocument.updateMany({ where, data: fresh });
  if (count === 0) return undefined;
  if (last) {
    await tx.documentUpdate.deleteMany({ where: { documentId, epoch } });
    await tx.documentUpdate.create({ data: { documentId, epoch, seq: 0, update: last.state, at: BigInt(last.now) } });
  }
  return epoch + 1;
}

/** Drops the updates of epochs that are over, where nothing of them is to be kept. */
export const dropEpochsBefore = (documentId: string, epoch: number): Promise<unknown> =>
  database().documentUpdate.deleteMany({ where: { documentId, epoch: { lt: epoch } } });

/** What an epoch held at its end, where that was kept. */
export async function endOfEpoch(documentId: string, epoch: number): Promise<Uint8Array | undefined> {
  const where = { documentId_epoch_seq: { documentId, epoch, seq: 0 } };
  return (await database().documentUpdate.findUnique({ where }))?.update;
}
