/** How the times of one kind lie: in milliseconds. */
export type Spread = { p50Ms: number; p95Ms: number; count: number };

/** The time that so many percent of them do not exceed (nearest rank). */
const percentile = (sorted: readonly number[], percent: number): number =>
  sorted[Math.max(0, Math.ceil((percent / 100) * sorted.length) - 1)] ?? Number.NaN;

export function spreadOf(timesMs: readonly number[]): Spread {
  const sorted = [...timesMs].sort((a, b) => a - b);
  return { p50Ms: percentile(sorted, 50), p95Ms: percentile(sorted, 95), count: sorted.length };
}
