import { PrismaPg } from "@prisma/adapter-pg";
import { env } from "./env";
import { type Prisma, PrismaClient } from "./generated/client";

export type Database = PrismaClient;
/** A connection inside of a transaction. */
export type Transaction = Prisma.TransactionClient;

// Kept on the global object: in development a module may be loaded again, and its old connections would stay open.
const place = globalThis as typeof globalThis & { tackfreeDatabase?: Database };

/** The one client of this process; it connects at first use. */
export function database(): Database {
  place.tackfreeDatabase ??= new PrismaClient({
    adapter: new PrismaPg({ connectionString: env().DATABASE_URL, max: env().DATABASE_POOL_SIZE }),
  });
  return place.tackfreeDatabase;
}

export async function closeDatabase(): Promise<void> {
  await place.tackfreeDatabase?.$disconnect();
  place.tackfreeDatabase = undefined;
}
