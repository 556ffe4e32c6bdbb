import type { FloorDocument } from "./floor-document";

/** Past this, most of what a phone would load is history, which Yjs never gives back: the floor is to be founded again. */
const mostHistoryPerValue = 10;
/** Below this nobody notices; a floor of two hundred pieces has some thousand values. */
const leastHistoryWorthIt = 20_000;

/** So much history that the floor is to be founded again at once, whoever is connected. */
export const isOutgrown = (floor: FloorDocument): boolean =>
  floor.historySize > leastHistoryWorthIt && floor.historySize > mostHistoryPerValue * floor.valueCount;

/** In a quiet moment less is enough: a floor should take hardly more room than what it says takes as JSON. */
const [mostBytesPerByte, leastHistoryBytes] = [1.25, 32 * 1024];

/**
 * Never so where each value has one piece of history, which is as few as can be.
 *
 * @param bytes the floor's whole state, encoded
 */
export const isHeavy = (floor: FloorDocument, bytes: number): boolean =>
  bytes > leastHistoryBytes &&
  floor.historySize > mostBytesPerByte * floor.valueCount &&
  bytes > mostBytesPerByte * floor.jsonBytes + leastHistoryBytes;
