import { createHash, randomUUID } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { Trouble } from "./trouble.mjs";

// Applies prisma/migrations as `prisma migrate deploy` would: under its lock, in its table, with its checksums. The Prisma
// command line agrees with the result; it is not run here because it would download a native engine at every first start.

const prismaLock = 72707369; // the advisory lock that Prisma's own schema engine takes

const bookkeepingTable = `create table if not exists _prisma_migrations (
  id varchar(36) primary key not null,
  checksum varchar(64) not null,
  finished_at timestamptz,
  migration_name varchar(255) not null,
  logs text,
  rolled_back_at timestamptz,
  started_at timestamptz not null default now(),
  applied_steps_count integer not null default 0
)`;

/** @param {string} folder */
function readMigrations(folder) {
  return readdirSync(folder)
    .sort()
    .filter((name) => existsSync(path.join(folder, name, "migration.sql")))
    .map((name) => {
      const sql = readFileSync(path.join(folder, name, "migration.sql"), "utf8");
      return { name, sql, checksum: createHash("sha256").update(sql).digest("hex") };
    });
}

/**
 * @param {import("pg").Client} client
 * @param {{ name: string, sql: string, checksum: string }} migration
 */
async function apply(client, { name, sql, checksum }) {
  await client.query("begin");
  try {
    await client.query(sql);
    await client.query(
      `insert into _prisma_migrations (id, checksum, migration_name, finished_at, applied_steps_count)
       values ($1, $2, $3, now(), 1)`,
      [randomUUID(), checksum, name],
    );
    await client.query("commit");
  } catch (error) {
    await client.query("rollback");
    throw new Error(`migration ${name} failed and was rolled back`, { cause: error });
  }
}

/**
 * Brings a database up to date and returns the names of the migrations that were applied now.
 * @param {string} databaseUrl
 * @param {string} folder the migrations, a folder each
 * @returns {Promise<string[]>}
 */
export async function migrate(databaseUrl, folder) {
  const { default: pg } = await import("pg");
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    await client.query("select pg_advisory_lock($1)", [prismaLock]); // goes with the session, also when that breaks
    await client.query(bookkeepingTable);
    const { rows } = await client.query(
      "select migration_name, checksum, finished_at from _prisma_migrations where rolled_back_at is null",
    );
    const rowByName = new Map(rows.map((row) => [row.migration_name, row]));
    const migrations = readMigrations(folder);
    for (const { name, checksum } of migrations) {
      const row = rowByName.get(name);
      if (row && !row.finished_at)
        throw new Trouble(
          `The migration ${name} was begun earlier and did not finish.`,
          "Look at the database with `npx prisma migrate status --config prisma/prisma.config.ts`, then resolve it there.",
        );
      if (row && row.checksum !== checksum)
        throw new Trouble(
          `The migration ${name} was edited after this database had applied it.`,
          "Put the file back as it was, and make the change in a new migration.",
        );
    }
    const known = new Set(migrations.map(({ name }) => name));
    const newer = rows.find((row) => !known.has(row.migration_name));
    if (newer)
      throw new Trouble(
        `This database was last used by a newer Tackfree (it has the migration ${newer.migration_name}).`,
        "Start that version, or one after it. An older one could damage what it does not know.",
      );
    const pending = migrations.filter(({ name }) => !rowByName.has(name));
    for (const migration of pending) await apply(client, migration);
    return pending.map(({ name }) => name);
  } finally {
    await client.end();
  }
}
