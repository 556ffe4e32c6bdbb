/** How long it takes from the moment when one device sends an intent until each other device's floor shows it. */
import { setTimeout as pause } from "node:timers/promises";
import { floorRoom } from "~/core/wire";
import { updateFrame } from "../../server/messages";
import { Phone } from "../server/support/phone";
import { newId, type WireDevice } from "../support/wire-device";
import type { BenchShop } from "./bench-shop";

const warmUpRounds = 10;
const rounds = 100;
/** A shop is not a queue: people press one after the other. */
const betweenMs = 50;

export type ToScreens = {
  timesMs: number[];
  /** The frames that one of the devices got, for sending the same over something simpler. */
  payloads: Uint8Array[];
};

export async function measureToScreens({ devices, taskIds }: BenchShop): Promise<ToScreens> {
  const [sender, ...others] = devices as [WireDevice, ...WireDevice[]];
  const room = floorRoom(sender.shopId, await sender.ask<number>("door.floorEpoch"));
  const phones = devices.map(
    ({ site, cookie }) => new Phone(`${site.replace("http", "ws")}/sync/${room}`, { cookie, origin: site }),
  );
  await Promise.all(phones.map((phone) => phone.synced()));
  const screens = phones.slice(1);
  const timesMs: number[] = [];
  for (let round = 0; round < warmUpRounds + rounds; round += 1) {
    const taskId = taskIds[round % taskIds.length] as string;
    const claimId = newId();
    const seen = screens.map((phone) => seenAt(phone, claimId));
    const sentAt = performance.now();
    await sender.send(["claim-task", { claimId, taskId, memberIds: [sender.memberId] }]);
    const shownAt = await Promise.all(seen);
    if (round >= warmUpRounds) timesMs.push(...shownAt.map((at) => at - sentAt));
    await pause(betweenMs);
  }
  if (timesMs.length !== rounds * others.length) throw new Error("a screen was missed");
  const heard =
    screens[0]?.heard.flatMap((frame) => (frame.kind === "update" ? [updateFrame(frame.update)] : [])) ?? [];
  for (const phone of phones) phone.leave();
  return { timesMs, payloads: heard.slice(-rounds) };
}

/** When a device's floor shows a claim. */
function seenAt(phone: Phone, claimId: string): Promise<number> {
  const claims = phone.doc.getMap("claim");
  return new Promise((resolve) => {
    const look = () => {
      if (!claims.has(claimId)) return;
      claims.unobserve(look);
      resolve(performance.now());
    };
    claims.observe(look);
  });
}
