import { PrismaPg } from "@prisma/adapter-pg";
import { env } from "./env";
import { type Prisma, PrismaClient } from "./generated/client";

export type Database = PrismaClient;
/** A connection inside of a transaction. */
export type Transaction = Prisma.TransactionClient;

// Kept on the global object: in development a module may be loaded again, and its old connections would stay open.
const place = globalThis as typeof globalThis & { tackfreeDatabase?: Database };

/** A process that is stopped in the middle of a transaction would hold its shop's lock: the database takes it away. */
const longestIdleMs = 4_000;

/** A year of a logger's readings takes several seconds on a slow machine. */
const longWorkMs = 60_000;

/** To be said in a transaction before much is worked out in it: for once the database is patient. */
export const announceLongWork = async (tx: Transaction): Promise<void> => {
  await tx.$executeRawUnsafe(`SET LOCAL idle_in_transaction_session_timeout = ${longWorkMs}`);
};

/** Texts beyond this are rare ones, with lists of a length of their own. */
const mostNamed = 300;

/** Statements with a name are read and planned once on each connection, not each time: half of what a short one costs. */
function statementNames(): (query: { sql: string }) => string {
  const nameByText = new Map<string, string>();
  return ({ sql }) => {
    const known = nameByText.get(sql);
    if (known !== undefined || nameByText.size >= mostNamed) return known ?? "";
    const name = `tackfree_${nameByText.size}`;
    nameByText.set(sql, name);
    return name;
  };
}

/** The one client of this process; it connects at first use. */
export function database(): Database {
  place.tackfreeDatabase ??= new PrismaClient({
    adapter: new PrismaPg(
      {
        connectionString: env().DATABASE_URL,
        max: env().DATABASE_POOL_SIZE,
        keepAlive: true,
        options: `-c idle_in_transaction_session_timeout=${longestIdleMs}`,
      },
      { statementNameGenerator: statementNames() },
    ),
  });
  return place.tackfreeDatabase;
}

export const isDatabaseThere = async (): Promise<boolean> =>
  (await database().$queryRaw<unknown[]>`SELECT 1`).length === 1;

export async function closeDatabase(): Promise<void> {
  await place.tackfreeDatabase?.$disconnect();
  place.tackfreeDatabase = undefined;
}
