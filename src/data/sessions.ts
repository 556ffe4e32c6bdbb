import { randomUUID } from "node:crypto";
import type { Role } from "~/core/shop/entities/people";
import { roleAt } from "~/core/shop/roles";
import { database, type Transaction } from "./db";
import { rememberDevice } from "./devices";
import { rowOf } from "./rows";

export type NewSession = {
  shopId: string;
  deviceId: string;
  deviceName: string;
  now: number;
  expiresAt: number;
} & ({ accountId: string; memberId: string; isSharedTablet: false } | { accountId?: string; isSharedTablet: true });

/** Signs a device in: as a member's own, or as a tablet that the shop shares. */
export async function createSession(wanted: NewSession, tx: Transaction = database()): Promise<string> {
  const { shopId, deviceId, deviceName, now, expiresAt, isSharedTablet } = wanted;
  const memberId = wanted.isSharedTablet ? undefined : wanted.memberId;
  await rememberDevice({ shopId, deviceId, memberId, name: deviceName, now }, tx);
  const session = await tx.session.create({
    data: {
      id: randomUUID(),
      accountId: wanted.accountId ?? null,
      shopId,
      memberId: memberId ?? null,
      deviceId,
      isSharedTablet,
      createdAt: now,
      expiresAt,
    },
  });
  return session.id;
}

export type LiveSession = {
  sessionId: string;
  accountId?: string;
  shopId: string;
  deviceId: string;
  expiresAt: number;
} & (
  | { isSharedTablet: false; memberId: string; role: Role }
  | { isSharedTablet: true; memberId?: undefined; role?: undefined }
);

type StoredSession = {
  accountId: string | null;
  shopId: string;
  deviceId: string;
  isSharedTablet: boolean;
  endedAt: number | null;
  expiresAt: number;
};

type MemberSession = Extract<LiveSession, { isSharedTablet: false }>;
/** As a session stands: whose membership has ended still holds one, in no role. */
export type SessionStanding =
  | Extract<LiveSession, { isSharedTablet: true }>
  | (Omit<MemberSession, "role"> & { role?: Role });

/** The one look-up behind every route, file and socket: alive means not ended, not expired, and its member is one now. */
export async function sessionById(sessionId: string, now: number): Promise<LiveSession | undefined> {
  const standing = await sessionStanding(sessionId, now);
  return standing && (standing.isSharedTablet || standing.role) ? (standing as LiveSession) : undefined;
}

/** The same, told apart: a session that is over is undefined; one whose member has gone is there, and may nothing. */
export async function sessionStanding(sessionId: string, now: number): Promise<SessionStanding | undefined> {
  // one question, and nothing around it: it stands before every call
  const [found] = await database().$queryRaw<{ session: StoredSession; member: Record<string, unknown> | null }[]>`
    SELECT to_jsonb(s) AS "session", to_jsonb(m) AS "member" FROM "session" s
    LEFT JOIN "member" m ON m."shopId" = s."shopId" AND m."id" = s."memberId" WHERE s."id" = ${sessionId}::uuid`;
  if (!found) return undefined;
  const stored = { ...found.session, member: found.member };
  if (stored.endedAt !== null || Number(stored.expiresAt) <= now) return undefined;
  const common = {
    sessionId,
    ...(stored.accountId ? { accountId: stored.accountId } : {}),
    shopId: stored.shopId,
    deviceId: stored.deviceId,
    expiresAt: Number(stored.expiresAt),
  };
  if (stored.isSharedTablet) return { ...common, isSharedTablet: true };
  if (!stored.member) throw new Error(`session ${sessionId} is nobody's`);
  const member = rowOf("member", stored.member);
  const role = roleAt(member, now);
  return { ...common, isSharedTablet: false, memberId: member.id, ...(role ? { role } : {}) };
}

export type EndedWhy = "signed-out" | "membership-ended" | "password-changed" | "taken-back" | "replaced";

export async function endSession(sessionId: string, why: EndedWhy, now: number): Promise<void> {
  await database().session.updateMany({
    where: { id: sessionId, endedAt: null },
    data: { endedAt: now, endedWhy: why },
  });
}

/** Ends all sessions of a member and returns their ids, so that their sockets can be hung up. */
export async function endSessionsOf(
  { shopId, memberId, why, now }: { shopId: string; memberId: string; why: EndedWhy; now: number },
  tx: Transaction = database(),
): Promise<string[]> {
  const ended = await tx.session.updateManyAndReturn({
    where: { shopId, memberId, endedAt: null },
    data: { endedAt: now, endedWhy: why },
    select: { id: true },
  });
  return ended.map(({ id }) => id);
}

/** Turns a member's own session into the shop's shared tablet: from now on each report says whose it is. */
export async function shareSession(sessionId: string, now: number): Promise<void> {
  await database().session.updateMany({
    where: { id: sessionId, endedAt: null, expiresAt: { gt: now } },
    data: { isSharedTablet: true, memberId: null, accountId: null },
  });
}
