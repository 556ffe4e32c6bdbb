import { database } from "./db";

/** Of these migrations, those that the database has not had. */
export async function missingMigrations(names: readonly string[]): Promise<string[]> {
  const applied = await database().$queryRaw<{ name: string }[]>`
    SELECT "migration_name" AS "name" FROM "_prisma_migrations"
    WHERE "finished_at" IS NOT NULL AND "rolled_back_at" IS NULL`;
  const known = new Set(applied.map(({ name }) => name));
  return names.filter((name) => !known.has(name));
}
