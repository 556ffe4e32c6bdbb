/** One who takes part in a whole: `name` and `id` only break ties. */
export type Share = { weight: number; name?: string; id?: string };

/**
 * Shares a whole out by weights so that the parts add up to it exactly: everyone gets the whole units of their quota,
 * the units left over go to the largest remainders. Ties go to the larger weight, then the name, then the id, both in
 * code-point order, then the earlier one. A loss is shared like a gain, and its sign put on last.
 *
 * @param whole a whole number of cents, seconds or whatever is not split further; may be negative
 * @param shares weights are whole numbers, 0 or more, and not all 0 unless the whole is 0
 * @source Hamilton's method of largest remainders
 * @example apportion(10000, [{ weight: 1 }, { weight: 1 }, { weight: 1 }]) // [3334, 3333, 3333]
 */
export function apportion(whole: number, shares: readonly Share[]): number[] {
  if (!Number.isSafeInteger(whole)) throw new RangeError(`apportion: the whole ${whole} is not a whole number`);
  let weightSum = 0;
  let heaviest = 0;
  for (const { weight } of shares) {
    if (!Number.isSafeInteger(weight) || weight < 0) throw new RangeError(`apportion: weight ${weight}`);
    weightSum += weight;
    heaviest = Math.max(heaviest, weight);
  }
  if (whole === 0) return shares.map(() => 0);
  if (weightSum === 0) throw new RangeError(`apportion: ${whole} among weights that are all 0`);
  const amount = Math.abs(whole);
  const isSmall = Number.isSafeInteger(amount * heaviest) && Number.isSafeInteger(weightSum);
  const quotas = isSmall ? quotasOf(amount, shares, weightSum) : bigQuotasOf(amount, shares);
  const parts = quotas.map((quota) => quota.floor);
  const left = amount - parts.reduce((sum, part) => sum + part, 0);
  if (left === 0) return signed(parts, whole);
  const order = shares.map((_, index) => index).sort((a, b) => byRemainder(quotas, shares, a, b));
  for (const index of order.slice(0, left)) parts[index] = (parts[index] as number) + 1;
  return signed(parts, whole);
}

const signed = (parts: number[], whole: number) => (whole < 0 ? parts.map((part) => 0 - part) : parts);

type Quota = { floor: number; remainder: number | bigint };

const quotasOf = (amount: number, shares: readonly Share[], weightSum: number): Quota[] =>
  shares.map(({ weight }) => {
    const remainder = (amount * weight) % weightSum;
    return { floor: (amount * weight - remainder) / weightSum, remainder };
  });

/** The same in integers of any size, for products beyond 2^53. */
function bigQuotasOf(amount: number, shares: readonly Share[]): Quota[] {
  const weightSum = shares.reduce((sum, { weight }) => sum + BigInt(weight), 0n);
  return shares.map(({ weight }) => {
    const product = BigInt(amount) * BigInt(weight);
    return { floor: Number(product / weightSum), remainder: product % weightSum };
  });
}

function byRemainder(quotas: readonly Quota[], shares: readonly Share[], a: number, b: number): number {
  const quotaA = quotas[a];
  const quotaB = quotas[b];
  const shareA = shares[a];
  const shareB = shares[b];
  if (!quotaA || !quotaB || !shareA || !shareB) throw new RangeError(`apportion: no share ${a} or ${b}`);
  if (quotaA.remainder !== quotaB.remainder) return quotaA.remainder > quotaB.remainder ? -1 : 1;
  return (
    shareB.weight - shareA.weight ||
    byCodePoint(shareA.name ?? "", shareB.name ?? "") ||
    byCodePoint(shareA.id ?? "", shareB.id ?? "") ||
    a - b
  );
}

/**
 * Orders text by code point, the same on every device and in every language.
 *
 * @example byCodePoint("K-201", "K-203") // -1
 */
export function byCodePoint(a: string, b: string): number {
  let index = 0;
  while (index < a.length && a.charCodeAt(index) === b.charCodeAt(index)) index++;
  // past the end of one of them is before everything
  return Math.sign((a.codePointAt(index) ?? -1) - (b.codePointAt(index) ?? -1));
}
