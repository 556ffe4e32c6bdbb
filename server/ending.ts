import type { Log } from "./log";

/** A terminal and npm both pass on what somebody pressed once: what comes this soon after the first is the same request. */
const sameRequestMs = 1_000;

/**
 * Ends the process in order when it is asked to; whoever asks again is tired of waiting, and it ends at once. Nothing is
 * lost by that: what was acknowledged is stored.
 */
export function endOnRequest(end: () => Promise<boolean>, log: Log): void {
  let askedAt: number | undefined;
  const begin = (signal: string): void => {
    askedAt = performance.now();
    log.info("ending", { signal });
    end().then(
      (isInTime) => {
        log.info(isInTime ? "ended" : "ended-late", { tookMs: performance.now() - (askedAt as number) });
        process.exit(isInTime ? 0 : 1);
      },
      (error: unknown) => {
        log.fault(error);
        process.exit(1);
      },
    );
  };
  for (const signal of ["SIGTERM", "SIGINT", "SIGHUP"] as const) {
    process.on(signal, () => {
      if (askedAt === undefined) begin(signal);
      else if (performance.now() - askedAt >= sameRequestMs) process.exit(1);
    });
  }
  // whoever started this process is gone without a word
  process.on("disconnect", () => {
    if (askedAt === undefined) begin("disconnect");
  });
}
