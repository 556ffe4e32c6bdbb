/** Shops of their own for each test, in the database that scripts/test-database.mjs started. */
import { randomBytes } from "node:crypto";
import { sha256 } from "~/data/canonical-json";
import { rememberDevice } from "~/data/devices";
import { type BatchOutcome, commitBatch, commitEntrance, type LedgerHooks } from "~/data/ledger";
import type { Answer } from "~/data/rulings";

if (!process.env.TEST_DATABASE_URL) throw new Error("these tests need TEST_DATABASE_URL: run them by `npm test`");
process.env.DATABASE_URL = process.env.TEST_DATABASE_URL;

/** Monday 26 October 2026, 08:00 in New York. */
export const mondayAt = Date.UTC(2026, 9, 26, 12);
export const minuteMs = 60_000;

/** A UUID of version 7, as a device makes it. */
export function newId(at = mondayAt): string {
  const time = at.toString(16).padStart(12, "0");
  const chance = randomBytes(10).toString("hex");
  return `${time.slice(0, 8)}-${time.slice(8)}-7${chance.slice(0, 3)}-8${chance.slice(3, 6)}-${chance.slice(6, 18)}`;
}

export type Hand = {
  shopId: string;
  memberId: string;
  deviceId: string;
  /** The number of the last intent in the device's queue. */
  deviceSeq: number;
};

export type TestShop = { shopId: string; boardId: string; roomId: string; owner: Hand };

export async function handOf(shopId: string, memberId: string): Promise<Hand> {
  const deviceId = newId();
  await rememberDevice({ shopId, deviceId, memberId, name: "a phone", now: mondayAt });
  return { shopId, memberId, deviceId, deviceSeq: 0 };
}

export const foundingOf = (shopId: string, memberId = newId(), boardId = newId()) => ({
  shopId,
  name: "A bench and a lamp",
  zone: "America/New_York",
  country: "US",
  currency: "USD",
  memberId,
  memberName: "Fern",
  markLetter: "F",
  markOutline: "disc",
  boardId,
  boardName: "The floor",
});

/** A shop with its owner, one board and one room. */
export async function freshShop(now = mondayAt): Promise<TestShop> {
  const [shopId, memberId, boardId, roomId] = [newId(), newId(), newId(), newId()];
  const founded = await commitEntrance({
    kind: "found-shop",
    intentId: newId(),
    shopId,
    body: foundingOf(shopId, memberId, boardId),
    now,
  });
  if (founded.verdict === "refused") throw new Error(JSON.stringify(founded.refusal));
  const owner = await handOf(shopId, memberId);
  await accepted(owner, "add-room", roomBody(roomId), now);
  return { shopId, boardId, roomId, owner };
}

export const roomBody = (roomId = newId()) => ({
  roomId,
  name: "Spray room",
  uses: ["spray", "cure", "bench"],
  usualCelsius: 20,
  usualHumidityPercent: 50,
});

/** Somebody else comes in by an invitation of the owner. */
export async function joined(shop: TestShop, role: "partner" | "helper" | "owner", now = mondayAt): Promise<Hand> {
  const [memberId, secretSha256] = [newId(), sha256(newId())];
  const expiresAt = now + 24 * 60 * minuteMs;
  await accepted(shop.owner, "invite", { invitationId: newId(), role, forName: "Max", secretSha256, expiresAt }, now);
  const { shopId } = shop;
  const arrival = { secretSha256, memberId, memberName: "Max", markLetter: "M", markOutline: "block" };
  const answer = await commitEntrance({ kind: "join", intentId: newId(), shopId, body: arrival, now });
  if (answer.verdict === "refused") throw new Error(JSON.stringify(answer.refusal));
  return handOf(shopId, memberId);
}

/** The next intent of a device, made at that moment by a clock that is right. */
export function intentOf(hand: Hand, kind: string, body: unknown, at = mondayAt, more: object = {}) {
  hand.deviceSeq += 1;
  return {
    intentId: newId(at),
    kind,
    body,
    memberId: hand.memberId,
    deviceId: hand.deviceId,
    deviceSeq: hand.deviceSeq,
    deviceAt: at,
    offsetMs: 0,
    offsetUncertainMs: 20,
    seenSeq: 0,
    schemaVersion: 1,
    ...more,
  };
}

export const deliver = (
  hand: Hand,
  envelopes: unknown[],
  now = mondayAt,
  hooks: LedgerHooks = {},
): Promise<BatchOutcome> => {
  const session = { memberId: hand.memberId, deviceId: hand.deviceId, isSharedTablet: false };
  return commitBatch({ shopId: hand.shopId, envelopes, session, now }, hooks);
};

export async function ask(hand: Hand, kind: string, body: unknown, now = mondayAt): Promise<Answer> {
  const { rulings, failed, gap } = await deliver(hand, [intentOf(hand, kind, body, now)], now);
  if (failed[0]) throw failed[0].error;
  const answer = rulings[0];
  if (!answer) throw new Error(`no ruling, resend from ${gap?.resendFrom}`);
  return answer;
}

export async function accepted(hand: Hand, kind: string, body: unknown, now = mondayAt): Promise<Answer> {
  const answer = await ask(hand, kind, body, now);
  if (answer.verdict === "refused") throw new Error(`${kind}: ${JSON.stringify(answer.refusal)}`);
  return answer;
}

let lastNumber = 0;
export const pieceBody = (shop: TestShop, pieceId = newId()) => ({
  pieceId,
  number: `K-${++lastNumber}`,
  boardId: shop.boardId,
  name: "Oak dresser",
  kind: "dresser",
  roomId: shop.roomId,
  surfaces: [
    { surfaceId: newId(), name: "top", squareDecimetres: 60 },
    { surfaceId: newId(), name: "body", squareDecimetres: 220 },
  ],
});
