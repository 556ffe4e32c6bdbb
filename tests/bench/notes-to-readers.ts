/** How long it takes from a key that one member presses in the notes of a piece until each other reader has the letter. */
import { setTimeout as pause } from "node:timers/promises";
import { notesRoom } from "~/core/wire";
import { updateFrame } from "../../server/messages";
import { Phone } from "../server/support/phone";
import type { BenchShop } from "./bench-shop";
import type { ToScreens } from "./to-screens";

const warmUpRounds = 10;
const rounds = 100;
const betweenMs = 25;

export async function measureNotes({ devices, pieceIds }: BenchShop, readerCount: number): Promise<ToScreens> {
  const pieceId = pieceIds[0] as string;
  const phones: Phone[] = [];
  for (let count = 0; count < readerCount; count += 1) {
    const { site, cookie, shopId } = devices[count % devices.length] as (typeof devices)[0];
    const room = notesRoom(shopId, pieceId);
    const phone = new Phone(`${site.replace("http", "ws")}/sync/${room}`, { cookie, origin: site });
    await phone.synced();
    phones.push(phone);
  }
  const [writer, ...readers] = phones as [Phone, ...Phone[]];
  const timesMs: number[] = [];
  for (let round = 0; round < warmUpRounds + rounds; round += 1) {
    const words = `<${readerCount}.${round}>`;
    const seen = readers.map((phone) => readAt(phone, words));
    const saidAt = performance.now();
    writer.doc.getText("journal").insert(0, words);
    const readAll = await Promise.all(seen);
    if (round >= warmUpRounds) timesMs.push(...readAll.map((at) => at - saidAt));
    await pause(betweenMs);
  }
  const heard =
    readers[0]?.heard.flatMap((frame) => (frame.kind === "update" ? [updateFrame(frame.update)] : [])) ?? [];
  for (const phone of phones) phone.leave();
  return { timesMs, payloads: heard.slice(-rounds) };
}

/** When a device's copy of the notes begins with these words. */
function readAt(phone: Phone, words: string): Promise<number> {
  const journal = phone.doc.getText("journal");
  return new Promise((resolve) => {
    const look = () => {
      if (!journal.toString().startsWith(words)) return;
      journal.unobserve(look);
      resolve(performance.now());
    };
    journal.observe(look);
  });
}
