/** Prisma: no connection in time, transaction timed out, write conflict. PostgreSQL: serialisation, deadlock, shutdown. */
const passingCodes = new Set([
  "P2024",
  "P2028",
  "P2034",
  "40001",
  "40P01",
  "53300",
  "57P01",
  "57P02",
  "57P03",
  "ECONNREFUSED",
  "ECONNRESET",
  "EPIPE",
  "ETIMEDOUT",
]);

/** Something that may be gone at the next attempt, unlike a bug. P1…: Prisma cannot reach the database. */
export function isPassing(error: unknown): boolean {
  for (let found = error, depth = 0; found !== null && typeof found === "object" && depth < 6; depth += 1) {
    const { code, originalCode, cause, meta } = found as Record<string, unknown>;
    const codes = [code, originalCode].map(String);
    if (codes.some((one) => passingCodes.has(one) || /^P1\d{3}$/.test(one) || /^08/.test(one))) return true;
    found = cause ?? (meta as { driverAdapterError?: unknown } | undefined)?.driverAdapterError;
  }
  return false;
}
