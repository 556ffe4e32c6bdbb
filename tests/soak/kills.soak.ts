/** Servers and the database are killed under load: nothing that was said to be kept may be missing afterwards. */
import { once } from "node:events";
import { chmodSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import net from "node:net";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { closeDatabase, database } from "~/data/db";
import { differences, replay, storedRows } from "~/data/replay";
import { migrate } from "../../scripts/migrations.mjs";
import { ensurePostgres } from "../../scripts/postgres.mjs";
import { buildDoor, type Door, killDoor, openDoor, removeDoor } from "../server/support/doors";
import { openPlace, type Place, type Port, roomOf, Sender, until, Writer } from "./support/crew";

const [serverKills, databaseKills] = [50, 10];
/** So much is said to be kept between two kills, at least. */
const enough = 40;

beforeAll(buildDoor);
afterAll(async () => {
  removeDoor();
  await closeDatabase();
});

function crewOf(place: Place, port: Port) {
  const senders = place.seats.map((seat) => new Sender(seat, place.pieceId, port));
  const writers = place.seats.map((seat, index) => new Writer(seat, roomOf(place), port, `${"abc"[index]}`));
  const count = () => {
    const parts = [...senders.map(({ saidYes }) => saidYes.length), ...writers.map(({ kept }) => kept.length)];
    return parts.reduce((sum, part) => sum + part, 0);
  };
  return { senders, writers, count };
}

/** What was said to be kept and is not there, when everybody is connected again. */
async function expectNothingLost(place: Place, crew: ReturnType<typeof crewOf>, port: Port): Promise<void> {
  const { senders, writers } = crew;
  await Promise.all([...senders, ...writers].map((one) => one.stop()));
  const keptWords = writers.flatMap(({ kept }) => kept);
  const reader = new Writer(place.seats[0] as Place["seats"][0], roomOf(place), port, "reader");
  const all = [...writers, reader];
  await until(() => {
    for (const one of all) one.connect();
    return all.every(({ text }) => text === reader.text) && writers.every(({ text }) => text.length > 0);
  });
  const { shopId } = place.shop;
  const stored = new Set(
    (await database().task.findMany({ where: { shopId }, select: { id: true } })).map(({ id }) => id),
  );
  const saidYes = senders.flatMap((sender) => sender.saidYes);
  expect(saidYes.filter((id) => !stored.has(id))).toEqual([]);
  expect(keptWords.filter((words) => !reader.text.includes(words))).toEqual([]);
  expect(differences(await replay(shopId), await storedRows(shopId))).toEqual([]);
  for (const one of all) one.leave();
  console.log(`said to be kept and there: ${saidYes.length} intents, ${keptWords.length} words`);
}

test(`killed ${serverKills} times under load, the server has lost nothing that it said was kept`, async () => {
  const place = await openPlace();
  let door: Door | undefined;
  const port = () => door?.port;
  const crew = crewOf(place, port);
  for (const one of [...crew.senders, ...crew.writers]) one.start();
  for (let cycle = 0; cycle < serverKills; cycle += 1) {
    const before = crew.count();
    door = await openDoor();
    await until(() => crew.count() >= before + enough + (cycle % 7));
    const killed = door;
    door = undefined;
    await killDoor(killed);
  }
  door = await openDoor();
  await expectNothingLost(place, crew, port);
  await killDoor(door);
});

test(`with the database killed ${databaseKills} times under load, nothing is lost that was said to be kept`, async () => {
  const folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-soak-"));
  chmodSync(folder, 0o755); // as root, PostgreSQL runs as another user, who must get through
  const home = path.join(folder, "postgres");
  let postgres = await ensurePostgres(home);
  await migrate(postgres.url, path.resolve("prisma/migrations"));
  // a database that comes back has another port; whoever uses it knows one address
  const line = net.createServer((near) => {
    const far = net.connect(Number(new URL(postgres.url).port), "127.0.0.1");
    const drop = () => {
      near.destroy();
      far.destroy();
    };
    near.on("error", drop).on("close", drop).pipe(far);
    far.on("error", drop).on("close", drop).pipe(near);
  });
  line.listen(0, "127.0.0.1");
  await once(line, "listening");
  const address = new URL(postgres.url);
  address.port = `${(line.address() as net.AddressInfo).port}`;
  const elsewhere = process.env.DATABASE_URL;
  await closeDatabase();
  process.env.DATABASE_URL = address.href;
  let door: Door | undefined;
  try {
    const place = await openPlace();
    door = await openDoor();
    const { port: doorPort } = door;
    const crew = crewOf(place, () => doorPort);
    for (const one of [...crew.senders, ...crew.writers]) one.start();
    for (let cycle = 0; cycle < databaseKills; cycle += 1) {
      const before = crew.count();
      await until(() => crew.count() >= before + enough + (cycle % 7));
      const [pid] = readFileSync(path.join(postgres.home, "cluster", "postmaster.pid"), "utf8").split("\n");
      process.kill(Number(pid), "SIGKILL");
      postgres = await ensurePostgres(home);
    }
    const before = crew.count();
    await until(() => crew.count() >= before + enough);
    await expectNothingLost(place, crew, () => doorPort);
  } finally {
    if (door) await killDoor(door);
    await closeDatabase();
    process.env.DATABASE_URL = elsewhere;
    line.close();
    await postgres.stop();
    rmSync(folder, { recursive: true, force: true });
  }
});
