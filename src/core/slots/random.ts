/** Chance from a seed, so that the same question gets the same plan. */
export type Random = {
  /** At least 0, less than 1. */
  fraction: () => number;
  /** A whole number from 0 to `count` - 1. */
  below: (count: number) => number;
};

/** The small fast counting generator sfc32 of Chris Doty-Humphrey's PractRand, warmed up. */
export function seededRandom(seed: number): Random {
  let [a, b, c, counter] = [seed | 0, 0x9e3779b9 | 0, (seed ^ 0x243f6a88) | 0, 1];
  const word = (): number => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + sum) | 0;
    return sum >>> 0;
  };
  for (let round = 0; round < 15; round++) word();
  const fraction = () => word() / 0x1_0000_0000;
  return { fraction, below: (count) => Math.floor(fraction() * count) };
}

/** Shuffles in place. */
export function shuffle<Thing>(things: Thing[], random: Random): Thing[] {
  for (let last = things.length - 1; last > 0; last--) {
    const other = random.below(last + 1);
    const thing = things[last] as Thing;
    things[last] = things[other] as Thing;
    things[other] = thing;
  }
  return things;
}
