import { afterAll, beforeAll, expect, test } from "vitest";
import * as Y from "yjs";
import { closeDatabase } from "~/data/db";
import { buildDoor, killDoor, openDoor, removeDoor } from "../server/support/doors";
import { Phone } from "../server/support/phone";
import { openPlace, roomOf, until } from "./support/crew";

const [devices, wordsEach] = [200, 5];
/** The number, beyond the time that two hundred documents in one process take by themselves. */
const withinMs = 10_000;

beforeAll(buildDoor);
afterAll(async () => {
  removeDoor();
  await closeDatabase();
});

test(`${devices} devices that come back at once after a crash, each with words of its own, soon have all of them`, async () => {
  const place = await openPlace();
  const first = await openDoor();
  const copies = Array.from({ length: devices }, () => new Y.Doc());
  const connect = (port: number) =>
    copies.map((doc, index) => {
      const cookie = place.seats[index % place.seats.length]?.cookie ?? "";
      return new Phone(`ws://127.0.0.1:${port}/sync/${roomOf(place)}`, { cookie }, doc);
    });
  const before: Phone[] = [];
  for (const phone of connect(first.port)) {
    await phone.synced();
    before.push(phone);
  }
  await killDoor(first);
  for (const phone of before) phone.leave();
  for (const [index, doc] of copies.entries()) {
    const text = doc.getText("journal");
    for (let word = 0; word < wordsEach; word += 1) text.insert(text.length, `<${index}.${word}>`);
  }
  const second = await openDoor();
  const length = copies.reduce((sum, doc) => sum + doc.getText("journal").length, 0);
  const cpuBefore = process.cpuUsage();
  let phones = connect(second.port);
  const tookMs = await until(() => {
    // a server that is asked by more than it can look up at once sends some away for a moment
    phones = phones.map((phone, index) => {
      if (!phone.isOver) return phone;
      phone.leave();
      return new Phone(phone.socket.url, { cookie: place.seats[index % place.seats.length]?.cookie ?? "" }, phone.doc);
    });
    return copies.every((doc) => doc.getText("journal").length === length);
  }, 120_000);
  const { user, system } = process.cpuUsage(cpuBefore);
  const ownMs = (user + system) / 1000;
  console.log(
    `${devices} back: ${(tookMs / 1000).toFixed(1)} s, of which the generator's own ${(ownMs / 1000).toFixed(1)} s`,
  );
  expect(new Set(copies.map((doc) => doc.getText("journal").toString())).size).toBe(1);
  expect(tookMs - ownMs).toBeLessThan(withinMs);
  for (const phone of phones) phone.leave();
  await killDoor(second);
});
