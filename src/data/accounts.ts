import { randomUUID } from "node:crypto";
import { accept, type Result, refuse } from "~/core/result";
import { minuteMs, secondMs } from "~/core/units";
import { database, type Transaction } from "./db";
import { useLink } from "./links";
import { hashPassword, isPassword, refuseSlowly } from "./passwords";

/** So many wrong passwords are free; then each wait is twice the one before, up to the longest. */
const freeAttempts = 5;
const firstWaitMs = 30 * secondMs;
const longestWaitMs = 15 * minuteMs;

export const signInNameOf = (typed: string): string => typed.normalize("NFKC").trim().toLowerCase();

export type AccountRefusal = { kind: "name-taken" } | { kind: "password-too-short"; min: number };

/** Length is what makes a password hard to guess. Source: NIST SP 800-63B, 3.1.1.2 (at least 8; longer where it is the only factor). */
export const shortestPassword = 10;

export async function createAccount(
  { signInName, password, now }: { signInName: string; password: string; now: number },
  tx: Transaction = database(),
): Promise<Result<{ accountId: string }, AccountRefusal>> {
  if ([...password].length < shortestPassword) return refuse({ kind: "password-too-short", min: shortestPassword });
  const account = {
    id: randomUUID(),
    signInName: signInNameOf(signInName),
    passwordHash: await hashPassword(password),
    createdAt: now,
  };
  // not by catching the violation: inside of a transaction that would end the transaction
  const { count } = await tx.account.createMany({ data: [account], skipDuplicates: true });
  return count === 1 ? accept({ accountId: account.id }) : refuse({ kind: "name-taken" });
}

export type SignInRefusal = { kind: "wrong-name-or-password" } | { kind: "too-many-attempts"; earliestAt: number };

/** Who signs in with this name and password. Nothing in the answer, nor its time, tells which names there are. */
export async function checkSignIn({
  signInName,
  password,
  now,
}: {
  signInName: string;
  password: string;
  now: number;
}): Promise<Result<{ accountId: string }, SignInRefusal>> {
  const account = await database().account.findUnique({ where: { signInName: signInNameOf(signInName) } });
  if (account?.lockedUntil && Number(account.lockedUntil) > now) {
    await refuseSlowly(password);
    return refuse({ kind: "too-many-attempts", earliestAt: Number(account.lockedUntil) });
  }
  const isRight = account ? await isPassword(account.passwordHash, password) : await refuseSlowly(password);
  if (!account || !isRight) {
    if (account) await countFailure(account.id, now);
    return refuse({ kind: "wrong-name-or-password" });
  }
  if (account.failedCount > 0) {
    await database().account.update({ where: { id: account.id }, data: { failedCount: 0, lockedUntil: null } });
  }
  return accept({ accountId: account.id });
}

async function countFailure(id: string, now: number): Promise<void> {
  const { failedCount } = await database().account.update({
    where: { id },
    data: { failedCount: { increment: 1 } },
    select: { failedCount: true },
  });
  if (failedCount < freeAttempts) return;
  const waitMs = Math.min(firstWaitMs * 2 ** (failedCount - freeAttempts), longestWaitMs);
  await database().account.update({ where: { id }, data: { lockedUntil: now + waitMs } });
}

/** Sets another password, and ends every session that was signed in with the old one. */
export async function changePassword(
  { accountId, password, now }: { accountId: string; password: string; now: number },
  tx: Transaction = database(),
): Promise<Result<{ accountId: string }, AccountRefusal>> {
  if ([...password].length < shortestPassword) return refuse({ kind: "password-too-short", min: shortestPassword });
  const passwordHash = await hashPassword(password);
  await tx.account.update({ where: { id: accountId }, data: { passwordHash, failedCount: 0, lockedUntil: null } });
  await tx.session.updateMany({
    where: { accountId, endedAt: null },
    data: { endedAt: now, endedWhy: "password-changed" },
  });
  return accept({ accountId });
}

export type Seat = { shopId: string; memberId: string };

/** Which member of which shop an account is; those who have left keep their seat, and their sessions do not live. */
export async function seatsOf(accountId: string): Promise<Seat[]> {
  return database().seat.findMany({ where: { accountId }, select: { shopId: true, memberId: true } });
}

export const takeSeat = async (seat: Seat & { accountId: string }, tx: Transaction = database()): Promise<void> => {
  await tx.seat.create({ data: seat });
};

/**
 * A new password by an owner's one-time link. Link and password go together: a password that is refused leaves the link
 * as it was.
 */
export async function resetPassword({
  secret,
  password,
  now,
}: {
  secret: string;
  password: string;
  now: number;
}): Promise<Result<{ accountId: string }, AccountRefusal | { kind: "link-over" }>> {
  if ([...password].length < shortestPassword) return refuse({ kind: "password-too-short", min: shortestPassword });
  return database().$transaction(async (tx) => {
    const link = await useLink("owner-reset", secret, now, tx);
    return link?.accountId
      ? changePassword({ accountId: link.accountId, password, now }, tx)
      : refuse({ kind: "link-over" });
  });
}
