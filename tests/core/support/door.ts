/**
 * The shortest way through the one door: load what an intent declares, judge, and take what the events leave different.
 * Nothing but the declared facts is given to the rule, as on the server, so a rule that forgets to declare what it reads
 * fails its tests.
 */
import type * as z from "zod/mini";
import { apply } from "~/core/shop/apply";
import { newIdOf, type Ruling } from "~/core/shop/define";
import type { Facts, Need } from "~/core/shop/facts";
import { type Intent, schemaVersion } from "~/core/shop/intent";
import { entranceOf } from "~/core/shop/intents/entrances";
import { judge, needsOf } from "~/core/shop/judge";
import { MemoryFacts } from "~/core/shop/memory-facts";
import { momentsOf } from "~/core/shop/moments";
import { withOldValues } from "~/core/shop/old-values";
import type { Refusal } from "~/core/shop/refusal";
import { refusalOfShape } from "~/core/shop/shape";
import type { Row, TableName } from "~/core/shop/tables";
import { mayBeTakenBack } from "~/core/shop/ways-back";
import type { InstantMs } from "~/core/units";
import { id, monday8 } from "./people";

let intentsMade = 0;
let ledgerSeq = 0;

type Travel = {
  /** The device's clock, which is right unless `offsetMs` says otherwise; null for one that was never measured. */
  at?: InstantMs;
  offsetMs?: number | null;
  happenedAt?: InstantMs;
  /** A device has seen everything unless it was apart. */
  seenSeq?: number;
  deviceId?: string;
  intentId?: string;
};

/** An intent in its envelope, made on Monday at eight unless told otherwise. */
export function envelopeOf(kind: string, body: unknown, by: string, travel: Travel = {}): Intent {
  intentsMade += 1;
  const { at = monday8, offsetMs = 0, happenedAt, seenSeq = 1_000_000, deviceId = id(0xde), intentId } = travel;
  return {
    // steps of 2²⁰ leave room for the ids that rules derive from an intent's
    intentId: intentId ?? id(0x1_0000_0000 + intentsMade * 0x10_0000),
    kind,
    body,
    memberId: by,
    deviceId,
    deviceSeq: intentsMade,
    deviceAt: at,
    ...(offsetMs === null ? {} : { offsetMs }),
    seenSeq,
    schemaVersion,
    ...(happenedAt === undefined ? {} : { happenedAt }),
  };
}

type Circumstances = { seq?: number; isSharedTablet?: boolean; coming?: Intent[] };

/** Judges an intent at the moment when it reaches the server, and takes its events into the facts. */
export function rule(facts: MemoryFacts, intent: Intent, now = intent.deviceAt, around: Circumstances = {}): Ruling {
  const moments = momentsOf(intent, now);
  if (!moments.ok) return { verdict: "refused", refusal: moments.refusal, events: [] };
  const shopId = facts.all("shop")[0]?.id ?? "";
  const loaded = loadedFor((known) => needsOf(intent, shopId, known), facts);
  const { seq = 1_000_001, isSharedTablet = false, coming = [] } = around;
  const ruling = judge({ facts: loaded, intent, when: moments.value, seq, isSharedTablet, coming });
  const { intentId, kind, memberId } = intent;
  const events = mayBeTakenBack(kind) ? ruling.events.map((event) => withOldValues(facts, event)) : ruling.events;
  if (ruling.verdict === "accepted" || events.length > 0) {
    ledgerSeq += 1;
    const seqOfEntry = events.length > 0 ? { seq: ledgerSeq } : {};
    facts.noteRuling({ intentId, kind, memberId, madeAt: moments.value.madeAt, events, ...seqOfEntry });
  }
  return taken(facts, loaded, ruling);
}

/** What a repeat is ruled: nothing was left to do. */
export const alreadySo: Ruling = { verdict: "accepted", events: [] };

/** The refusal of a ruling; fails the test when the door let it through. */
export function refusalOf(ruling: Ruling): Refusal {
  if (ruling.verdict === "accepted") throw new Error("the door accepted it");
  return ruling.refusal;
}

export const eventKinds = (ruling: Ruling): string[] => ruling.events.map((event) => event.kind);

function taken(facts: MemoryFacts, loaded: MemoryFacts, ruling: Ruling): Ruling {
  for (const event of ruling.events) {
    const after = apply(loaded, event);
    loaded.take(after);
    facts.take(after);
  }
  return ruling;
}

/** Facts that hold what was asked for and nothing else; asks again until nothing new is wanted. */
function loadedFor(needs: (known: Facts) => Need[], facts: MemoryFacts): MemoryFacts {
  const loaded = new MemoryFacts();
  const done = new Set<string>();
  for (;;) {
    const wanted = needs(loaded).filter((need) => !done.has(JSON.stringify(need)));
    if (wanted.length === 0) return loaded;
    for (const need of wanted) {
      done.add(JSON.stringify(need));
      load(need, facts, loaded);
    }
  }
}

function load(need: Need, facts: MemoryFacts, loaded: MemoryFacts): void {
  const put = <Table extends TableName>(table: Table, rows: (Row<Table> | undefined)[]) => {
    for (const row of rows) if (row) loaded.put(table, row);
  };
  if ("readingsOf" in need) {
    const before = facts.readings(need.readingsOf, 0).filter((reading) => reading.at < need.fromAt);
    put("reading", [before.sort((a, b) => b.at - a.at)[0], ...facts.readings(need.readingsOf, need.fromAt)]);
  } else if ("pastFrom" in need) {
    const past = facts.past(need.pastFrom);
    for (const entry of past ? [past.entry, ...past.later] : []) loaded.noteRuling(entry);
  } else if ("running" in need) put("entry", facts.running());
  else if ("entriesOf" in need) put("entry", facts.entries(need.entriesOf, need.fromAt));
  else if ("id" in need) put(need.table, [facts.get(need.table, need.id)]);
  else if ("all" in need) put(need.table, facts.all(need.table));
  else put(need.table, facts.where(need.table, need.field as never, need.value));
}

/** Founds or joins: an entrance is judged without a member. The body is parsed as the server parses it. */
export function enter(facts: MemoryFacts, kind: string, body: unknown, now: InstantMs = monday8): Ruling {
  const entrance = entranceOf(kind);
  if (!entrance) throw new Error(`no entrance is called ${kind}`);
  const parsed = entrance.body.safeParse(body);
  if (!parsed.success) {
    return { verdict: "refused", refusal: refusalOfShape(parsed.error.issues as z.core.$ZodIssue[], body), events: [] };
  }
  intentsMade += 1;
  const when = { happenedAt: now, madeAt: now, recordedAt: now, isClockTrusted: true };
  const loaded = loadedFor(() => entrance.reads(parsed.data), facts);
  const newId = newIdOf(id(0x1_0000_0000 + intentsMade * 0x10_0000));
  return taken(facts, loaded, entrance.judge({ facts: loaded, body: parsed.data, when, newId }));
}
