import { endedAt, lastDeliveryMs } from "~/core/shop/roles";
import { sha256 } from "./canonical-json";
import { database } from "./db";
import { rowOf } from "./rows";

export type PassHolder = { shopId: string; deviceId: string; memberId: string };

/** What a pass opens, if anything. Who still is a member signs in: a phone that was taken must not deliver for them. */
export type PassStanding = "unknown" | "member" | ({ isOver: boolean; endedAt: number; untilAt: number } & PassHolder);

/** Makes a device's pass known while its member is one. Another secret takes the place of the one before. */
export async function keepPass(
  { shopId, deviceId, memberId }: PassHolder,
  secretSha256: string,
  now: number,
): Promise<void> {
  await database().deliveryPass.upsert({
    where: { shopId_deviceId_memberId: { shopId, deviceId, memberId } },
    create: { shopId, deviceId, memberId, secretSha256, createdAt: now },
    update: { secretSha256 },
  });
}

/** How a pass stands: it opens with the end of the membership, and for a while. */
export async function passStanding(secret: string, now: number): Promise<PassStanding> {
  const found = await database().deliveryPass.findUnique({
    where: { secretSha256: sha256(secret) },
    include: { member: true },
  });
  if (!found) return "unknown";
  const ended = endedAt(rowOf("member", found.member));
  if (ended === undefined) return "member";
  const untilAt = ended + lastDeliveryMs;
  const { shopId, deviceId, memberId } = found;
  return { isOver: now >= untilAt, endedAt: ended, untilAt, shopId, deviceId, memberId };
}
