import pg from "pg";
import { env } from "~/data/env";

const rounds = 40;

/** How long PostgreSQL takes to store one row for good, way there and back included: the least that storing first costs. */
export async function measureCommits(): Promise<number[]> {
  const client = new pg.Client({ connectionString: env().DATABASE_URL });
  await client.connect();
  await client.query("CREATE TABLE IF NOT EXISTS bench_row (n int)");
  const timesMs: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    const startedAt = performance.now();
    await client.query({ name: "row", text: "INSERT INTO bench_row VALUES ($1)", values: [round] });
    timesMs.push(performance.now() - startedAt);
  }
  await client.end();
  return timesMs;
}
