export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  const upper = sorted[middle] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? Number.NaN) + upper) / 2;
};

export type Pair<Value> = { ours: Value; bare: Value };

/** Measures two servers beside each other so many times, each of them first as often as the other (or once less). */
export async function inTurn<Value>(
  times: number,
  ours: () => Promise<Value>,
  bare: () => Promise<Value>,
): Promise<Pair<Value>[]> {
  const pairs: Pair<Value>[] = [];
  for (let time = 0; time < times; time += 1) {
    if (time % 2 === 0) pairs.push({ bare: await bare(), ours: await ours() });
    else {
      const first = await ours();
      pairs.push({ ours: first, bare: await bare() });
    }
  }
  return pairs;
}
