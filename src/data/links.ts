import { randomBytes, randomUUID } from "node:crypto";
import { sha256 } from "./canonical-json";
import { database, type Transaction } from "./db";

/** A founder's code opens an empty installation; an owner's reset lets back in who has lost their password. */
export type LinkSort = "founder" | "owner-reset";

export type NewLink = { now: number; expiresAt: number } & (
  | { sort: "founder" }
  | { sort: "owner-reset"; shopId: string; accountId: string }
);

/** Makes a link and returns its secret, which is shown once: only its hash is kept. Older ones of its sort and account are dead. */
export async function createLink(wanted: NewLink, tx: Transaction = database()): Promise<string> {
  const secret = randomBytes(20).toString("base64url");
  const of = wanted.sort === "founder" ? {} : { shopId: wanted.shopId, accountId: wanted.accountId };
  await tx.oneTimeLink.updateMany({
    where: { sort: wanted.sort, accountId: of.accountId ?? null, usedAt: null },
    data: { expiresAt: wanted.now },
  });
  await tx.oneTimeLink.create({
    data: {
      id: randomUUID(),
      sort: wanted.sort,
      secretSha256: sha256(secret),
      createdAt: wanted.now,
      expiresAt: wanted.expiresAt,
      ...of,
    },
  });
  return secret;
}

/** Is this secret still good? For showing a form; only `useLink` spends it. */
export async function isLinkOpen(sort: LinkSort, secret: string, now: number): Promise<boolean> {
  const open = { sort, secretSha256: sha256(secret), usedAt: null, expiresAt: { gt: now } };
  return (await database().oneTimeLink.count({ where: open })) > 0;
}

/** Spends a link, once: of two at the same time one gets it. Undefined where it is unknown, spent or too old. */
export async function useLink(
  sort: LinkSort,
  secret: string,
  now: number,
  tx: Transaction = database(),
): Promise<{ shopId?: string; accountId?: string } | undefined> {
  const [used] = await tx.oneTimeLink.updateManyAndReturn({
    where: { sort, secretSha256: sha256(secret), usedAt: null, expiresAt: { gt: now } },
    data: { usedAt: now },
  });
  return used && { shopId: used.shopId ?? undefined, accountId: used.accountId ?? undefined };
}

/** An installation without a shop waits for its founder. */
export const hasShop = async (): Promise<boolean> => (await database().shop.count()) > 0;
