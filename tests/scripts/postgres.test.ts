import { chmodSync, mkdtempSync, rmSync } from "node:fs";
import { readFile } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import pg from "pg";
import { afterAll, beforeAll, expect, test } from "vitest";
import { ensurePostgres } from "../../scripts/postgres.mjs";

let folder: string;

beforeAll(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-postgres-"));
  chmodSync(folder, 0o755);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function query(url: string, sql: string) {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

test("a shop's rows survive a killed database, and a start after a killed start takes the running one over", async () => {
  const home = path.join(folder, "postgres");
  const first = await ensurePostgres(home);
  expect(first.how).toBe("made");
  await query(first.url, "create table bench as select 'oak sideboard' as piece");

  const afterKilledStart = await ensurePostgres(home);
  expect(afterKilledStart.how).toBe("adopted");
  expect(afterKilledStart.url).toBe(first.url);

  const postmaster = await readFile(path.join(home, "cluster", "postmaster.pid"), "utf8");
  process.kill(Number(postmaster.split("\n")[0]), "SIGKILL");
  const afterKilledDatabase = await ensurePostgres(home);
  expect(afterKilledDatabase.how).toBe("started");
  expect(await query(afterKilledDatabase.url, "select piece from bench")).toEqual([{ piece: "oak sideboard" }]);

  await afterKilledDatabase.stop();
  await expect(query(afterKilledDatabase.url, "select 1")).rejects.toThrow("ECONNREFUSED");
});

test("the embedded database listens on this machine only and asks for its password", async () => {
  const running = await ensurePostgres(path.join(folder, "postgres"));
  try {
    expect(await query(running.url, "show listen_addresses")).toEqual([{ listen_addresses: "127.0.0.1" }]);
    const stranger = new URL(running.url);
    stranger.password = "guess";
    await expect(query(stranger.href, "select 1")).rejects.toThrow("password authentication failed");
  } finally {
    await running.stop();
  }
});
