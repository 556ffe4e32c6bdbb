/** How long updates wait until they are stored for good, when a great many come: the log of documents by itself. */
import { setTimeout as pause } from "node:timers/promises";
import { DocumentLog } from "~/data/document-log";
import { ensureDocument } from "~/data/documents";
import { newId } from "../support/database";
import type { BenchPlace } from "./bench-place";
import { atMost, ms, type Row } from "./rows";
import { spreadOf } from "./spread";

const perSecond = 2_000;
const documents = 20;
const updateBytes = 150;
const [warmUpMs, measuredMs] = [1_000, 5_000];
/** So often some are handed over: a timer is no finer. */
const stepMs = 2;

export async function measureLog({ shopId, seats }: BenchPlace): Promise<Row[]> {
  const log = new DocumentLog();
  const ids: string[] = [];
  for (let count = 0; count < documents; count += 1)
    ids.push((await ensureDocument({ shopId, kind: "notes", subjectId: newId() })).documentId);
  const memberId = seats[0]?.hand.memberId;
  const update = new Uint8Array(updateBytes).fill(7);
  const timesMs: number[] = [];
  const under: Promise<void>[] = [];
  const startedAt = performance.now();
  const append = async (number: number, isCounted: boolean) => {
    const askedAt = performance.now();
    const documentId = ids[number % documents] as string;
    const appended = await log.append({
      documentId,
      epoch: 1,
      updates: [{ update, memberId }],
      writers: [],
      now: Date.now(),
    });
    if (appended === "refused") throw new Error("an update was refused");
    if (isCounted) timesMs.push(performance.now() - askedAt);
  };
  let offered = 0;
  for (;;) {
    const sinceMs = performance.now() - startedAt;
    if (sinceMs > warmUpMs + measuredMs) break;
    const due = (sinceMs * perSecond) / 1000;
    for (; offered < due; offered += 1) under.push(append(offered, sinceMs > warmUpMs));
    await pause(stepMs);
  }
  await Promise.all(under);
  await log.close();
  const { p50Ms, p95Ms } = spreadOf(timesMs);
  return [
    { what: `${perSecond} updates a second offered, p50 until stored`, value: ms(p50Ms) },
    atMost(`${perSecond} updates a second offered, p95 until stored`, p95Ms, 15, ms),
  ];
}
