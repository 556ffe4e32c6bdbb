import fc from "fast-check";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { floorTables } from "~/core/shop/floor";
import type { Intent } from "~/core/shop/intent";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import { FloorFacts } from "~/device/floor-facts";
import { optimisticFloor, rowKey } from "~/device/optimistic";
import { OverlayFacts } from "~/device/overlay-facts";
import {
  aClaim,
  anEntry,
  aPiece,
  aReading,
  aTask,
  dresser,
  envelopeOf,
  fern,
  hanna,
  id,
  loft,
  monday8,
  rule,
  shopWith,
  silas,
} from "../core/support/shop";
import { floorOf } from "./support/floor";

const scrape = id(301);
const wash = id(302);
const seq = 1_000_000;

const shop = () =>
  shopWith({
    piece: [aPiece()],
    task: [aTask({ id: scrape }), aTask({ id: wash, title: "Wash the drawers", after: [] })],
    reading: [aReading({ id: id(401), at: monday8 - hourMs })],
  });

function deviceOf(facts: MemoryFacts): FloorFacts {
  const copy = new Y.Doc();
  Y.applyUpdate(copy, floorOf(facts, { seq, airFromAt: monday8 - 13 * dayMs, askedAt: monday8 }).since());
  return new FloorFacts(copy);
}

const pending = (intents: Intent[]) => intents.map((intent) => ({ intent }));
const around = { seq, isSharedTablet: false };

type Act = { act: string; minutes: number; which: number };
const acts = fc.array(
  fc.record({
    act: fc.constantFrom("claim", "release", "start", "stop", "reading", "end-claim"),
    minutes: fc.integer({ min: 1, max: 300 }),
    which: fc.integer({ min: 0, max: 1 }),
  }),
  { maxLength: 14 },
);

/** What a member does at the bench, one thing after the other, on a phone without signal. */
function intentsOf(done: Act[], by: string): Intent[] {
  let at = monday8;
  return done.map(({ act, minutes, which }, index) => {
    at += minutes * minuteMs;
    const taskId = which === 0 ? scrape : wash;
    const subjects = [{ pieceId: dresser, taskId }];
    const bodies: Record<string, [string, unknown]> = {
      claim: ["claim-task", { claimId: id(0x600 + index), taskId, memberIds: [by] }],
      release: ["release-task", { taskId }],
      start: ["start-timer", { entryId: id(0x700 + index), subjects, workKind: "bench" }],
      stop: ["stop-timer", { entryId: id(0x700 + Math.max(0, index - 1 - which)) }],
      reading: [
        "record-reading",
        { readingId: id(0x800 + index), roomId: loft, at, airCelsius: 18.5, humidityPercent: 55 },
      ],
      "end-claim": ["end-claim", { taskId, why: "Back to the bench" }],
    };
    const [kind, body] = bodies[act] as [string, unknown];
    return envelopeOf(kind, body, by, { at, seenSeq: seq });
  });
}

test("what a phone shows of its own pending work is what the server makes of it, row for row", () => {
  fc.assert(
    fc.property(acts, fc.constantFrom(fern, silas, hanna), (done, by) => {
      const intents = intentsOf(done, by);
      const server = shop();
      const here = optimisticFloor(deviceOf(shop()), pending(intents), around);
      const rulings = intents.map((intent, index) => {
        const coming = intents.slice(index + 1);
        return rule(server, intent, intent.deviceAt, { seq: seq + index + 1, coming });
      });
      const verdicts = intents.map(({ intentId }) => here.verdictByIntentId.get(intentId));
      rulings.forEach((ruling, index) => {
        if (ruling.verdict === "accepted")
          expect(verdicts[index]).toEqual({ verdict: "accepted-here", events: ruling.events });
        else if (ruling.refusal.kind === "unknown-thing") expect(verdicts[index]?.verdict).toBe("cannot-tell");
        else expect(verdicts[index]).toEqual({ verdict: "refused-here", refusal: ruling.refusal });
      });
      const sorted = (rows: { id: string }[]) => [...rows].sort((one, other) => (one.id < other.id ? -1 : 1));
      for (const table of floorTables) expect(here.facts.all(table)).toEqual(sorted(server.all(table)));
      expect(sorted(here.facts.running())).toEqual(sorted(server.running()));
      // a history that grew keeps room for more behind its stretches, one laid out at once does not
      const airOf = ({ readings, lineage: _room, ...air }: ReturnType<MemoryFacts["air"]>) => ({
        ...air,
        count: readings.length,
      });
      expect(airOf(here.facts.air(loft, monday8))).toEqual(airOf(server.air(loft, monday8)));
    }),
    { numRuns: 120 },
  );
});

test("worked out twice it is the same, and the floor under it is not touched", () => {
  fc.assert(
    fc.property(acts, (done) => {
      const intents = pending(intentsOf(done, fern));
      const device = deviceOf(shop());
      const before = floorTables.map((table) => device.all(table));
      const once = optimisticFloor(device, intents, around);
      const twice = optimisticFloor(device, intents, around);
      expect(twice.verdictByIntentId).toEqual(once.verdictByIntentId);
      expect(twice.pendingRows).toEqual(once.pendingRows);
      expect(floorTables.map((table) => device.all(table))).toEqual(before);
    }),
    { numRuns: 30 },
  );
});

test("a reading written down here is part of the room's air at once, also when the air was asked for before", () => {
  const facts = new OverlayFacts(deviceOf(shop()));
  expect(facts.air(loft, monday8).endsAt).toBe(monday8 - hourMs);
  for (const hours of [1, 2]) {
    const at = monday8 + hours * hourMs;
    facts.take([{ table: "reading", row: aReading({ id: id(0x900 + hours), at }), isNew: true }]);
    expect(facts.air(loft, monday8).endsAt).toBe(at);
  }
});

test("rows that wait for the server are named, so that the screens can mark them", () => {
  const [claim] = intentsOf([{ act: "claim", minutes: 1, which: 0 }], fern);
  const { pendingRows, facts } = optimisticFloor(deviceOf(shop()), pending([claim as Intent]), around);
  expect(pendingRows).toEqual(new Set([rowKey("claim", id(0x600)), rowKey("task", scrape)]));
  expect(facts.get("task", scrape)?.state).toBe("held");
});

test("where a rule needs what the phone does not carry, the phone cannot tell, and goes on with the rest", () => {
  const facts = shop();
  // taken by another while this phone was away: how much was worked on it is in the ended hours
  facts.put(
    "claim",
    aClaim({
      id: id(501),
      taskId: scrape,
      memberIds: [silas],
      claimedSeq: seq + 5,
      claimedAt: monday8,
      lastSignAt: monday8,
    }),
  );
  const intents = intentsOf(
    [
      { act: "claim", minutes: 1, which: 0 },
      { act: "claim", minutes: 1, which: 1 },
    ],
    fern,
  );
  const { verdictByIntentId } = optimisticFloor(deviceOf(facts), pending(intents), around);
  expect([...verdictByIntentId.values()]).toMatchObject([
    { verdict: "cannot-tell", missing: "ended hours" },
    { verdict: "accepted-here" },
  ]);
});

test("a timer that the phone does not carry may have ended long ago: only the server knows", () => {
  const stop = envelopeOf("stop-timer", { entryId: id(0x7ff) }, fern, { at: monday8 });
  const { verdictByIntentId } = optimisticFloor(deviceOf(shop()), pending([stop]), around);
  expect(verdictByIntentId.get(stop.intentId)).toEqual({ verdict: "cannot-tell", missing: "entryId" });
});

test("a claim taken before this phone last heard is refused here, with the holder's name", () => {
  const facts = shop();
  facts.put("claim", aClaim({ id: id(501), taskId: scrape, memberIds: [silas], claimedSeq: 10, lastSignAt: monday8 }));
  const [claim] = intentsOf([{ act: "claim", minutes: 1, which: 0 }], fern) as [Intent];
  const { verdictByIntentId } = optimisticFloor(deviceOf(facts), pending([claim]), around);
  expect(verdictByIntentId.get(claim.intentId)).toMatchObject({
    verdict: "refused-here",
    refusal: { kind: "already-claimed", holderId: silas },
  });
});

test("an accepted change stays on the screen until the floor brings it, and is not called pending any more", () => {
  const [claim] = intentsOf([{ act: "claim", minutes: 1, which: 0 }], fern) as [Intent];
  const settling = pending([claim]);
  const { facts, pendingRows, verdictByIntentId } = optimisticFloor(deviceOf(shop()), settling, {
    ...around,
    settling,
  });
  expect(facts.get("task", scrape)?.state).toBe("held");
  expect([pendingRows.size, verdictByIntentId.size]).toEqual([0, 0]);
});

test("hours made by a clock that was measured before the page was reloaded are shown, not refused", () => {
  const start = intentsOf([{ act: "start", minutes: 1, which: 0 }], fern)[0] as Intent;
  const { offsetMs: _measured, ...unmeasured } = start;
  const asked = (expectedOffsetMs?: number) =>
    optimisticFloor(deviceOf(shop()), [{ intent: unmeasured, expectedOffsetMs }], around).verdictByIntentId.get(
      start.intentId,
    );
  expect(asked(0)).toMatchObject({ verdict: "accepted-here" });
  expect(asked()).toMatchObject({ verdict: "refused-here", refusal: { kind: "clock-not-trusted" } });
});

test("a timer that runs on the floor is stopped by the next one that this phone starts", () => {
  const facts = shop();
  facts.put("entry", anEntry({ id: id(502) }));
  const intents = intentsOf([{ act: "start", minutes: 5, which: 0 }], fern);
  const here = optimisticFloor(deviceOf(facts), pending(intents), around).facts;
  expect(here.running().map((entry) => entry.id)).toEqual([id(0x700)]);
  expect(here.get("entry", id(502))?.endedAt).toBe(monday8 + 5 * minuteMs);
});
