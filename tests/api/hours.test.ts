import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { closeDatabase } from "~/data/db";
import { accepted, freshShop, minuteMs, mondayAt, newId, pieceBody, type TestShop } from "../support/database";
import { codeOf, type Person, ShopApi } from "./support/shop-api";

const hourMs = 60 * minuteMs;

let api: ShopApi;
let shop: TestShop;
let owner: Person;
let helper: Person;
let [dresser, chair] = ["", ""];
beforeEach(async () => {
  api = new ShopApi();
  shop = await freshShop();
  owner = await api.signIn(shop.owner);
  helper = await api.member(shop, "helper");
  [dresser, chair] = [newId(), newId()];
  for (const pieceId of [dresser, chair]) await accepted(owner, "add-piece", pieceBody(shop, pieceId));
  api.now = mondayAt + 3 * 24 * hourMs; // Thursday, 08:00
  // Tuesday: two hours of the owner on the dresser; Wednesday: fifty minutes of the helper on both, and twenty for the shop
  await worked(owner, mondayAt + 25 * hourMs, 120, [{ pieceId: dresser, stage: "prep" }]);
  await worked(helper, mondayAt + 48 * hourMs, 50, [
    { pieceId: dresser, stage: "prep" },
    { pieceId: chair, stage: "repair" },
  ]);
  await worked(helper, mondayAt + 50 * hourMs, 20, []);
});
afterEach(() => api.stop());
afterAll(closeDatabase);

async function worked(hand: Person, startedAt: number, minutes: number, subjects: object[]) {
  const entry = { entryId: newId(), memberId: hand.memberId, startedAt, endedAt: startedAt + minutes * minuteMs };
  await accepted(hand, "add-entry", { ...entry, workKind: "bench", subjects }, api.now);
  return entry.entryId;
}

const weekOf = async (person: Person, startsOn?: string) => (await api.as(person)).hours.week({ startsOn });
const minutesOf = (seconds: number) => seconds / 60;

describe("the hours of a week", () => {
  test("add up per piece, person and stage for the owner", async () => {
    const { report, week } = await weekOf(owner);
    expect(week).toMatchObject({ fromAt: Date.UTC(2026, 9, 26, 4), toAt: Date.UTC(2026, 10, 2, 5) }); // clocks go back on Sunday
    const pieces = Object.fromEntries(report.byPiece.map(({ pieceId, seconds }) => [pieceId, minutesOf(seconds)]));
    expect(pieces).toEqual({ [dresser]: 145, [chair]: 25 });
    const people = Object.fromEntries(
      report.byMember.map(({ memberId, bookedSeconds }) => [memberId, minutesOf(bookedSeconds)]),
    );
    expect(people).toEqual({ [owner.memberId]: 120, [helper.memberId]: 70 });
    const stages = report.byStage
      .filter(({ seconds }) => seconds > 0)
      .map(({ stage, seconds }) => [stage, minutesOf(seconds)]);
    expect(stages).toEqual([
      ["repair", 25],
      ["prep", 145],
    ]);
    expect(minutesOf(report.bookedSeconds)).toBe(190);
  });

  test("are their own for a helper, whoever asks for what", async () => {
    const { report, entries, seesAll } = await weekOf(helper);
    expect(seesAll).toBe(false);
    expect(new Set(entries.map(({ memberId }) => memberId))).toEqual(new Set([helper.memberId]));
    expect(report.byMember.map(({ memberId }) => memberId)).toEqual([helper.memberId]);
    expect(minutesOf(report.bookedSeconds)).toBe(70);
    expect(JSON.stringify(report)).not.toContain(owner.memberId);
  });

  test("are everybody's for the bookkeeper, and for a partner unless the shop keeps them back", async () => {
    const partner = await api.member(shop, "partner");
    for (const person of [partner, await api.member(shop, "bookkeeper")]) {
      expect(minutesOf((await weekOf(person)).report.bookedSeconds)).toBe(190);
    }
    await accepted(owner, "set-shop", { key: "partnersSeeHours", was: true, value: false }, api.now);
    expect((await weekOf(partner)).entries).toEqual([]);
  });

  test("of another week hold nothing of this one", async () => {
    expect((await weekOf(owner, "2026-10-19")).report.bookedSeconds).toBe(0);
  });

  test("count a running timer until now, and more of it a minute later", async () => {
    await accepted(
      helper,
      "start-timer",
      { entryId: newId(), workKind: "bench", subjects: [{ pieceId: chair }] },
      api.now,
    );
    api.now += 30 * minuteMs;
    expect(minutesOf((await weekOf(helper)).report.bookedSeconds)).toBe(100);
    api.now += minuteMs;
    expect(minutesOf((await weekOf(helper)).report.bookedSeconds)).toBe(101);
  });

  test("are not asked for by a day that no calendar has", async () => {
    expect(await codeOf(weekOf(owner, "2026-02-30"))).toBe("BAD_REQUEST");
  });
});

describe("the hours of a piece", () => {
  test("say what went into it and not whose they were", async () => {
    const hours = await (await api.as(helper)).piece.hours({ pieceId: dresser });
    expect(minutesOf(hours.seconds)).toBe(145);
    expect(hours.stages).toEqual([{ stage: "prep", seconds: 145 * 60 }]);
    expect(JSON.stringify(hours)).not.toContain(owner.memberId);
  });
});

describe("the history of a piece", () => {
  test("tells the latest first, and pages back to its coming", async () => {
    const caller = await api.as(helper);
    const first = await caller.piece.history({ pieceId: dresser });
    expect(first.map(({ kinds }) => kinds[0])).toEqual(["entry-added", "entry-added", "piece-added"]);
    const older = await caller.piece.history({ pieceId: dresser, beforeSeq: first[1]?.seq });
    expect(older).toEqual(first.slice(2));
  });
});
