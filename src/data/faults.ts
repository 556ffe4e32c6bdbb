/** Something of ours that the next attempt finds otherwise. */
export class PassingFault extends Error {}

/** Prisma: no connection in time, transaction timed out, write conflict. PostgreSQL: serialisation, deadlock, shutdown. */
const passingCodes = new Set([
  "P2024",
  "P2028",
  "P2034",
  "40001",
  "40P01",
  // the database ended a transaction in which nothing happened: the process was stopped, and its lock given to others
  "25P03",
  "53300",
  "57P01",
  "57P02",
  "57P03",
  "ECONNREFUSED",
  "ECONNRESET",
  "EPIPE",
  "ETIMEDOUT",
]);

/** The driver has no code for a line that broke under it. */
const brokenLine =
  /^(Connection terminated|Client has encountered a connection error|timeout exceeded when trying to connect)/;

/** Something that may be gone at the next attempt, unlike a bug. P1…: Prisma cannot reach the database. */
export function isPassing(error: unknown): boolean {
  for (let found = error, depth = 0; found !== null && typeof found === "object" && depth < 6; depth += 1) {
    if (found instanceof PassingFault) return true;
    const { code, originalCode, cause, meta, message } = found as Record<string, unknown>;
    if (brokenLine.test(String(message))) return true;
    const codes = [code, originalCode].map(String);
    if (codes.some((one) => passingCodes.has(one) || /^P1\d{3}$/.test(one) || /^08/.test(one))) return true;
    found = cause ?? (meta as { driverAdapterError?: unknown } | undefined)?.driverAdapterError;
  }
  return false;
}
