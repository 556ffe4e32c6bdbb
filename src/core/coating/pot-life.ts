/**
 * How long a mix stays fit for use. Pot life is a maximum, so it runs on the fast clock: never slower than the clock on
 * the wall, and twice as fast for every 10 °C over the sheet's reference. Sources: pot life from mixing, ISO 9514; halving
 * per 10 °C, common practice. The can outranks it.
 */
import { airKnownAt, type RoomAir } from "../climate/history";
import { earnedBetween, roomCredit } from "../cure/room-credit";
import type { Mix, Sheet } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";

type PotLife = Pick<
  Sheet,
  "potLifeMin" | "inductionMin" | "referenceCelsius" | "referenceHumidityPercent" | "minimumCelsius"
>;

/**
 * Pot life in air that stays as it is.
 *
 * @param potLifeMin minutes at the reference
 * @returns minutes, never more than the sheet's
 * @source common practice
 * @example potLifeInAir({ potLifeMin: 30, referenceCelsius: 23 }, 33) // 15
 */
export const potLifeInAir = (
  { potLifeMin, referenceCelsius }: { potLifeMin: number; referenceCelsius: number },
  airCelsius: number,
) => potLifeMin / Math.max(1, 2 ** ((airCelsius - referenceCelsius) / 10));

export type MixUse = {
  /** Before, the two parts have not yet stood together for long enough. */
  usableFromAt: InstantMs;
  /** Absent where the sheet knows no pot life: a product of one part. */
  usableUntilAt?: InstantMs;
};

/** The last whole millisecond by which the fast clock has counted the pot life: at the latest the sheet's own minutes. */
const usedUpAt = (sheet: PotLife, potLifeMin: number, mixedAt: InstantMs, air: RoomAir, at: InstantMs): InstantMs => {
  // pot life doubles by the rule of thumb whatever law the film of the sheet hardens by
  const reference = {
    mechanism: "reactive",
    referenceCelsius: sheet.referenceCelsius,
    referenceHumidityPercent: sheet.referenceHumidityPercent,
    minimumCelsius: sheet.minimumCelsius,
  } as const;
  const credit = roomCredit(airKnownAt(air, at), reference);
  const isOver = (end: InstantMs) =>
    earnedBetween(credit, "fast", mixedAt, end, { at, countsAway: false }) > potLifeMin + 1e-6;
  let [fit, over] = [mixedAt, mixedAt + potLifeMin * minuteMs + 1];
  if (!isOver(over)) return over - 1;
  while (over - fit > 1) {
    const middle = Math.floor((fit + over) / 2);
    if (isOver(middle)) over = middle;
    else fit = middle;
  }
  return fit;
};

/**
 * From when and until when a mix may be used.
 *
 * @param air of the room in which it was mixed; where it was never read, real minutes count
 * @param at the instant of asking: later readings are not known yet
 */
export const mixUse = (mix: Pick<Mix, "mixedAt">, sheet: PotLife, air: RoomAir | undefined, at: InstantMs): MixUse => {
  const usableFromAt = mix.mixedAt + (sheet.inductionMin ?? 0) * minuteMs;
  const { potLifeMin } = sheet;
  if (potLifeMin === undefined) return { usableFromAt };
  const usableUntilAt = air ? usedUpAt(sheet, potLifeMin, mix.mixedAt, air, at) : mix.mixedAt + potLifeMin * minuteMs;
  return { usableFromAt, usableUntilAt };
};
