import type { Row } from "~/core/shop/tables";
import { sha256 } from "./canonical-json";
import { database } from "./db";
import { findRows, rowOf } from "./rows";

/** Those that could still be used now, the oldest first. */
export async function openInvitations(shopId: string, now: number): Promise<Row<"invitation">[]> {
  const open = { shopId, usedBy: null, withdrawnAt: null, expiresAt: { gt: now } };
  return (await findRows(database(), "invitation", open)).map(({ row }) => row);
}

/** The invitation that a secret belongs to, whatever its state: the only look-up that does not know its shop. */
export async function invitationBySecret(
  secret: string,
): Promise<{ shopId: string; invitation: Row<"invitation"> } | undefined> {
  const stored = await database().invitation.findUnique({ where: { secretSha256: sha256(secret) } });
  return stored ? { shopId: stored.shopId, invitation: rowOf("invitation", stored) } : undefined;
}
