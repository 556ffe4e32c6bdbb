/** Several servers on one database, of which one is killed, one is stopped, and none hears the others for a while. */
import pg from "pg";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { closeDatabase, database } from "~/data/db";
import { differences, replay, storedRows } from "~/data/replay";
import { buildDoor, type Door, killDoor, openDoor, removeDoor } from "../server/support/doors";
import { ShopServer } from "../server/support/shop-server";
import { freshShop, intentOf, newId, pieceBody } from "../support/database";
import { openPlace, type Place, roomOf, Sender, until, Writer } from "./support/crew";

const twice = 1000;
const [workMs, troubleMs] = [3_000, 10_000];
/** The number: with every hint lost they are the same so soon after the last change. */
const sameWithinMs = 6_000;

beforeAll(buildDoor);
afterAll(async () => {
  removeDoor();
  await closeDatabase();
});

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

test(`each of ${twice} intents that two servers get at once is judged once`, async () => {
  const [here, there] = await Promise.all([ShopServer.start(), ShopServer.start()]);
  const shop = await freshShop();
  const session = { ...shop.owner, isSharedTablet: false };
  const { shopId } = shop;
  const before = await database().ledgerEntry.count({ where: { shopId } });
  const piece = pieceBody(shop);
  await here.accepted(shop.owner, ["add-piece", piece]);
  const of = { pieceId: piece.pieceId, title: "Scrape", sort: "prep" };
  for (let count = 0; count < twice; count += 1) {
    const envelopes = [intentOf(shop.owner, "add-task", { taskId: newId(), ...of }, here.now)];
    const batch = { shopId, envelopes, session, now: here.now };
    const [one, other] = await Promise.all([here.hub.commit(batch), there.hub.commit(batch)]);
    expect([one.rulings[0]?.verdict, other.rulings[0]?.verdict]).toEqual(["accepted", "accepted"]);
  }
  expect(await database().ledgerEntry.count({ where: { shopId } })).toBe(before + 1 + twice);
  expect(await database().task.count({ where: { shopId } })).toBe(twice);
  expect(differences(await replay(shopId), await storedRows(shopId))).toEqual([]);
  expect([...here.faults, ...there.faults]).toEqual([]);
  await Promise.all([here.stop(), there.stop()]);
});

/** Cuts whoever listens or is about to say something, again and again. */
async function loseEveryHint(forMs: number): Promise<number> {
  const client = new pg.Client(process.env.DATABASE_URL);
  await client.connect();
  let cut = 0;
  const endsAt = performance.now() + forMs;
  while (performance.now() < endsAt) {
    const { rowCount } = await client.query(
      "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE query ~ '^(LISTEN |SELECT pg_notify)'",
    );
    cut += rowCount ?? 0;
    await pause(20);
  }
  await client.end();
  return cut;
}

describe.each([2, 4])("%i servers", (count) => {
  let doors: Door[] = [];
  afterEach(() => Promise.all(doors.map(killDoor)));

  async function open() {
    const place = await openPlace();
    doors = [];
    for (let opened = 0; opened < count; opened += 1) doors.push(await openDoor());
    const seatOf = (index: number) => place.seats[index % place.seats.length] as Place["seats"][0];
    /** The one at a server, and the next one where that is gone. */
    const portOf = (index: number) => () => {
      const alive = doors.filter(({ child }) => child.exitCode === null && child.signalCode === null);
      return (alive.includes(doors[index] as Door) ? doors[index] : alive[index % alive.length])?.port;
    };
    const senders = place.seats.map((seat, index) => new Sender(seat, place.pieceId, portOf(index % count)));
    const writers = doors.map(
      (_, index) => new Writer(seatOf(index), roomOf(place), portOf(index), `${"abcd"[index]}`),
    );
    for (const one of [...senders, ...writers]) one.start();
    await pause(workMs);
    const stop = () => Promise.all([...senders, ...writers].map((one) => one.stop()));
    const close = () => {
      for (const one of writers) one.leave();
    };
    return { place, doors, senders, writers, stop, close };
  }

  /** @returns the milliseconds until all read the same */
  const untilSame = (writers: readonly Writer[]) =>
    until(
      () => {
        for (const one of writers) one.connect();
        return new Set(writers.map(({ text }) => text)).size === 1;
      },
      sameWithinMs,
      () => writers.map(({ state }) => state).join("; "),
    );

  async function expectNothingLost({ place, senders, writers }: Awaited<ReturnType<typeof open>>) {
    const { shopId } = place.shop;
    const { text } = writers[0] as Writer;
    const tasks = new Set((await database().task.findMany({ where: { shopId } })).map(({ id }) => id));
    expect(senders.flatMap(({ saidYes }) => saidYes).filter((id) => !tasks.has(id))).toEqual([]);
    expect(writers.flatMap(({ kept }) => kept).filter((words) => !text.includes(words))).toEqual([]);
    expect(differences(await replay(shopId), await storedRows(shopId))).toEqual([]);
  }

  test("of which one is killed are the same soon after the last change, and nothing is lost", async () => {
    const crew = await open();
    await killDoor(crew.doors[0] as Door);
    await pause(workMs);
    await crew.stop();
    const tookMs = await untilSame(crew.writers);
    await expectNothingLost(crew);
    console.log(`${count} servers, one killed: the same ${tookMs.toFixed(0)} ms after the last change`);
    crew.close();
  });

  test("of which one is stopped go on without it, and it catches up when it wakes", async () => {
    const crew = await open();
    const stopped = crew.doors[0] as Door;
    stopped.child.kill("SIGSTOP");
    await pause(troubleMs / 2);
    await Promise.all(crew.writers.map((one) => one.stop()));
    const others = crew.writers.slice(1);
    const othersMs = await untilSame(others);
    stopped.child.kill("SIGCONT");
    const tookMs = await untilSame(crew.writers);
    await crew.stop();
    await expectNothingLost(crew);
    console.log(
      `${count} servers, one stopped: the others the same after ${othersMs.toFixed(0)} ms, it ${tookMs.toFixed(0)} ms after it woke`,
    );
    crew.close();
  });

  test("that do not hear each other for ten seconds are the same soon after the last change", async () => {
    const crew = await open();
    const deaf = loseEveryHint(troubleMs);
    await pause(troubleMs - sameWithinMs);
    await crew.stop();
    const tookMs = await untilSame(crew.writers);
    expect(await deaf).toBeGreaterThan(count);
    await expectNothingLost(crew);
    console.log(`${count} servers, no hint heard: the same ${tookMs.toFixed(0)} ms after the last change`);
    crew.close();
  });
});
