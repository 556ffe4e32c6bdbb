/** One turn at a shop's ledger, inside of one transaction: locked, written to, closed. */
import { apply, type RowAfter } from "~/core/shop/apply";
import { type Ruling, refused } from "~/core/shop/define";
import type { ShopEvent } from "~/core/shop/event";
import type { Need } from "~/core/shop/facts";
import type { Moments } from "~/core/shop/moments";
import { withOldValues } from "~/core/shop/old-values";
import type { Refusal } from "~/core/shop/refusal";
import type { Row, TableName } from "~/core/shop/tables";
import { mayBeTakenBack } from "~/core/shop/ways-back";
import { announceLongWork, type Transaction } from "./db";
import { DeviceQueues } from "./device-queues";
import { idsIn, KnownIds } from "./known-ids";
import { isPlain, merged } from "./load";
import { LoadedFacts } from "./loaded-facts";
import { openingOf } from "./opening";
import {
  type Answer,
  type Asked,
  type RefusedMaker,
  refusedMakersOf,
  restsOnRefused,
  rulingToKeep,
  type StoredRuling,
} from "./rulings";
import { LeftBehind } from "./store-intent";

/** What every intent is judged by. */
const sharedNeeds = (shopId: string): Need[] => [
  { table: "member", all: true },
  { table: "shop", id: shopId },
];

export type Ask = {
  intentId: string;
  asked: Asked;
  when: Moments;
  deviceId?: string;
  deviceAt?: number;
  offsetMs?: number;
};

export class LedgerPage {
  /** The last number before this page. */
  readonly fromSeq: number;
  readonly facts = new LoadedFacts();
  private readonly after = new Map<string, RowAfter>();
  private readonly written = new Set<string>();
  private readonly left = new LeftBehind();
  /** Of those whose intents were judged on this page. */
  private readonly queuesByDevice = new Map<string, DeviceQueues>();
  private readonly ids: KnownIds;
  private readonly makersRefusedBefore: RefusedMaker[] = [];
  private readonly makersRefusedHere: RefusedMaker[] = [];
  /** Whose makers have been looked for. */
  private readonly traced = new Set<string>();

  private constructor(
    readonly tx: Transaction,
    readonly shopId: string,
    private lastSeq: number,
    /** Of everything written in this turn; it never runs backwards from one turn to the next. */
    readonly recordedAt: number,
  ) {
    this.fromSeq = lastSeq;
    this.ids = new KnownIds(tx, shopId);
  }

  /**
   * Waits for its turn. Undefined where there is no such shop.
   *
   * @param isMuch so much is to be worked out that the database may hear nothing for longer than it usually allows
   */
  static async open(
    tx: Transaction,
    shopId: string,
    now: number,
    { isMuch } = { isMuch: false },
  ): Promise<LedgerPage | undefined> {
    if (isMuch) await announceLongWork(tx);
    const [head] = await tx.$queryRaw<{ seq: number; recordedAt: bigint }[]>`
      SELECT "seq", "recordedAt" FROM "ledgerHead" WHERE "shopId" = ${shopId}::uuid FOR UPDATE`;
    return head && new LedgerPage(tx, shopId, head.seq, Math.max(now, Number(head.recordedAt)));
  }

  /** The first page of a shop that is just being founded. */
  static first(tx: Transaction, shopId: string, now: number): LedgerPage {
    return new LedgerPage(tx, shopId, 0, now);
  }

  get seq(): number {
    return this.lastSeq;
  }

  get rowsAfter(): RowAfter[] {
    return [...this.after.values()];
  }

  /**
   * Begins with a device: how far its queues have been judged, which of these intents have a ruling already, and who is
   * there to judge them by.
   *
   * @param bodies what they ask, for looking at once for whatever they name
   * @param needs what they will want, as far as that can be told before anything is known
   */
  async begin(
    deviceId: string,
    intentIds: readonly string[],
    { bodies, needs }: { bodies: readonly unknown[]; needs: readonly Need[] } = { bodies: [], needs: [] },
  ): Promise<{ queues: DeviceQueues; rulingById: Map<string, StoredRuling> }> {
    const { tx, shopId, facts } = this;
    const ids = this.ids.notLookedFor(bodies.flatMap(idsIn));
    const missing = [...sharedNeeds(shopId), ...needs].filter((need) => isPlain(need) && !facts.carries(need));
    if (missing.length > 0) await this.store();
    const opening = await openingOf(tx, shopId, { deviceId, intentIds, ids, needs: merged(missing) });
    this.ids.found(ids, opening.known);
    for (const { table, row, createdSeq } of opening.rows) facts.put(table, row, createdSeq);
    for (const need of missing) facts.remember(need);
    const queues = this.queuesByDevice.get(deviceId) ?? new DeviceQueues(shopId, deviceId, opening.queues);
    this.queuesByDevice.set(deviceId, queues);
    return { queues, rulingById: new Map(opening.rulings.map((ruling) => [ruling.intentId, ruling])) };
  }

  /** Finds out, in two questions, what these bodies name that is there already, and what of it this device was refused. */
  async lookAhead(deviceId: string, bodies: readonly unknown[]): Promise<void> {
    const ids = [...new Set(bodies.flatMap(idsIn))];
    await this.ids.look(ids);
    await this.trace(
      deviceId,
      ids.filter((id) => !this.ids.has(id)),
    );
  }

  /** The refusal on which one rests that misses something, if this device had asked to make that. */
  async restsOn(deviceId: string, body: unknown): Promise<Refusal | undefined> {
    const absent = await this.absentIn(body);
    await this.trace(deviceId, absent);
    return restsOnRefused([...this.makersRefusedBefore, ...this.makersRefusedHere], absent);
  }

  /**
   * Writes a ruling down with whatever it changes: rows, one ledger entry, and the answer. It is stored with the next ones,
   * at the end of the page at the latest.
   */
  async write(ask: Ask, ruling: Ruling): Promise<Answer> {
    // as the ledger will give them back at a replay: what is undefined is not there
    const events = JSON.parse(JSON.stringify(ruling.events)) as ShopEvent[];
    const taken = await this.takenId(events);
    if (taken)
      return this.write(ask, refused({ kind: "malformed", field: taken, expected: "an id that nothing here has" }));
    const seq = events.length > 0 ? this.lastSeq + 1 : undefined;
    const { shopId, recordedAt } = this;
    const { intentId, asked, deviceId } = ask;
    const after = seq === undefined ? [] : this.apply(events, seq, mayBeTakenBack(asked.kind));
    const entry = seq === undefined ? {} : { entry: this.entryOf(ask, ruling.verdict, events, seq) };
    // the act itself did not come to be either: it cannot be taken back
    const unmadeIds = ruling.verdict === "refused" ? [intentId, ...(await this.absentIn(asked.body))] : [];
    const ruled = { shopId, intentId, asked, deviceId, ruling, recordedAt, seq };
    const { stored, answer } = rulingToKeep(ruled, unmadeIds);
    if (answer.verdict === "refused")
      this.makersRefusedHere.push({ intentId, kind: asked.kind, refusal: answer.refusal, unmadeIds });
    const stamp = { shopId, createdBy: asked.memberId ?? null, seq: seq ?? this.lastSeq };
    this.left.add({ after, stamp, ...entry, ruling: stored });
    const { kind, memberId } = asked;
    if (seq !== undefined || ruling.verdict === "accepted")
      this.facts.noteRuling({ intentId, kind, memberId, madeAt: ask.when.madeAt, seq, events });
    this.written.add(intentId);
    this.lastSeq = seq ?? this.lastSeq;
    if (this.left.isMuch) await this.store();
    return answer;
  }

  /** What has been written so far lies in the database: to be called before it is asked about anything of this shop. */
  store(): Promise<void> {
    return this.left.store(this.tx);
  }

  /** Has this intent got its ruling on this page? */
  hasWritten(intentId: string): boolean {
    return this.written.has(intentId);
  }

  async close(): Promise<void> {
    const { shopId, lastSeq: seq, recordedAt, queuesByDevice } = this;
    const queues = [...queuesByDevice.values()].flatMap(({ rows }) => rows);
    await this.left.store(this.tx, {
      head: { shopId, seq, recordedAt },
      queues,
      deviceIds: [...queuesByDevice.keys()],
    });
  }

  /** @param keepsOld each event is written down with what its fields held before */
  private apply(events: ShopEvent[], seq: number, keepsOld: boolean): RowAfter[] {
    const changed = new Map<string, RowAfter>();
    for (const [index, event] of events.entries()) {
      if (keepsOld) events[index] = withOldValues(this.facts, event);
      const rows = apply(this.facts, event);
      this.facts.take(rows, seq);
      for (const found of rows) lay(changed, found);
    }
    for (const found of changed.values()) {
      lay(this.after, found);
      if (found.isGone) this.ids.forget(found.table, found.row.id);
      else this.ids.note(found.table, found.row.id);
    }
    return [...changed.values()];
  }

  private entryOf(ask: Ask, verdict: Ruling["verdict"], events: readonly ShopEvent[], seq: number): object {
    const why = (ask.asked.body as { why?: unknown } | null)?.why;
    const { madeAt, happenedAt } = ask.when;
    return {
      shopId: this.shopId,
      seq,
      intentId: ask.intentId,
      kind: ask.asked.kind,
      verdict,
      memberId: ask.asked.memberId,
      deviceId: ask.deviceId,
      deviceAt: ask.deviceAt,
      offsetMs: ask.offsetMs,
      madeAt,
      happenedAt,
      recordedAt: this.recordedAt,
      why: typeof why === "string" ? why : null,
      pieceIds: [...new Set(events.flatMap((event) => event.pieceId ?? []))],
      events,
    };
  }

  /** The table of a new row whose id is there already: ids are made by devices, and one may be wrong or lie. */
  private async takenId(events: readonly ShopEvent[]): Promise<TableName | undefined> {
    const idsByTable = new Map<TableName, string[]>();
    for (const change of events.flatMap((event) => event.changes)) {
      if ("isNew" in change && change.isNew) {
        idsByTable.set(change.table, [...(idsByTable.get(change.table) ?? []), change.id]);
      }
    }
    await this.ids.look([...idsByTable.values()].flat());
    for (const [table, ids] of idsByTable) {
      if (new Set(ids).size < ids.length || ids.some((id) => this.ids.has(id, table))) return table;
    }
    return undefined;
  }

  private async trace(deviceId: string, absentIds: readonly string[]): Promise<void> {
    const ids = absentIds.filter((id) => !this.traced.has(id));
    for (const id of ids) this.traced.add(id);
    this.makersRefusedBefore.push(...(await refusedMakersOf(this.tx, { shopId: this.shopId, deviceId, ids })));
  }

  /** What is named here and nobody has made. */
  private async absentIn(body: unknown): Promise<string[]> {
    const ids = idsIn(body);
    await this.ids.look(ids);
    return ids.filter((id) => !this.ids.has(id));
  }
}

/** A row that is made and then changed is still new to whoever sees only the end. */
function lay(rows: Map<string, RowAfter>, after: RowAfter): void {
  const key = `${after.table} ${(after.row as Row<TableName>).id}`;
  rows.set(key, { ...after, isNew: after.isNew || (rows.get(key)?.isNew ?? false) });
}
