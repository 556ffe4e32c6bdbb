import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import pg from "pg";
import { afterEach, beforeEach, expect, test } from "vitest";
import { isEmpty } from "../../scripts/database.mjs";
import { migrate } from "../../scripts/migrations.mjs";

const server = process.env.TEST_DATABASE_URL ?? "";
const database = "migrations_test";
let folder: string;
let url: string;

async function query(at: string, sql: string) {
  const client = new pg.Client({ connectionString: at });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

function write(name: string, sql: string) {
  mkdirSync(path.join(folder, name), { recursive: true });
  writeFileSync(path.join(folder, name, "migration.sql"), sql);
}

beforeEach(async () => {
  folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-migrations-"));
  await query(server, `create database ${database}`);
  const own = new URL(server);
  own.pathname = database;
  url = own.href;
  write("20260101000000_pieces", "create table piece (name text not null)");
});

afterEach(async () => {
  await query(server, `drop database ${database} with (force)`);
  rmSync(folder, { recursive: true });
});

test("a migration is applied once, in order, and a second start applies only what is new", async () => {
  expect(await migrate(url, folder)).toEqual(["20260101000000_pieces"]);
  write("20260102000000_stage", "alter table piece add column stage text; insert into piece values ('chair', 'prep')");
  expect(await migrate(url, folder)).toEqual(["20260102000000_stage"]);
  expect(await migrate(url, folder)).toEqual([]);
  expect(await query(url, "select * from piece")).toEqual([{ name: "chair", stage: "prep" }]);
});

test("two servers that start together on one database apply each migration once", async () => {
  const applied = await Promise.all([migrate(url, folder), migrate(url, folder)]);
  expect(applied.flat()).toEqual(["20260101000000_pieces"]);
});

test("an edited migration is refused by name, and nothing after it is applied", async () => {
  await migrate(url, folder);
  write("20260101000000_pieces", "create table piece (name text)");
  write("20260102000000_stage", "alter table piece add column stage text");
  await expect(migrate(url, folder)).rejects.toThrow("20260101000000_pieces was edited");
  expect(await query(url, "select column_name from information_schema.columns where table_name = 'piece'")).toEqual([
    { column_name: "name" },
  ]);
});

test("a database that a newer version has used is refused", async () => {
  write("20260102000000_stage", "alter table piece add column stage text");
  await migrate(url, folder);
  rmSync(path.join(folder, "20260102000000_stage"), { recursive: true });
  await expect(migrate(url, folder)).rejects.toThrow("newer Tackfree");
});

test("a migration that fails leaves nothing of itself behind", async () => {
  write("20260102000000_stage", "alter table piece add column stage text; select no_such_function()");
  await expect(migrate(url, folder)).rejects.toThrow("20260102000000_stage failed");
  expect(await query(url, "select migration_name from _prisma_migrations")).toEqual([
    { migration_name: "20260101000000_pieces" },
  ]);
});

test("a database counts as empty until it has a shop, whatever else is kept in it", async () => {
  await query(url, "create table shop (name text)");
  await query(url, "create table founders_code (secret text)");
  await query(url, "insert into founders_code values ('unused')");
  expect(await isEmpty(url)).toBe(true);
  await query(url, "insert into shop values ('bench')");
  expect(await isEmpty(url)).toBe(false);
});
