import { database, type Transaction } from "./db";

export type DeviceSetUp = { shopId: string; deviceId: string; memberId?: string; name: string; now: number };

/** Makes a device known to a shop, or tells the shop whose it is now. */
export async function rememberDevice(
  { shopId, deviceId: id, memberId = undefined, name, now }: DeviceSetUp,
  tx: Transaction = database(),
): Promise<void> {
  const known = { memberId: memberId ?? null, name, lastHeardAt: now };
  await tx.device.upsert({
    where: { shopId_id: { shopId, id } },
    create: { shopId, id, ...known },
    update: known,
  });
}

/** What a device has measured of its clock: how far the server's is ahead of it, and how surely. */
export async function rememberOffset(measured: {
  shopId: string;
  deviceId: string;
  offsetMs: number;
  offsetUncertainMs: number;
  now: number;
}): Promise<void> {
  const { shopId, deviceId: id, offsetMs, offsetUncertainMs, now } = measured;
  await database().device.updateMany({
    where: { shopId, id },
    data: { offsetMs, offsetUncertainMs, offsetMeasuredAt: now, lastHeardAt: now },
  });
}
