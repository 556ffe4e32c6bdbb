/**
 * When bare wood that was washed, stripped or sanded wet may be sanded or coated. A meter or a scale decides where there is
 * one; without, a day, or two in damp air. A night lies between in any case.
 */
import { dayEndAt, shopDayAt } from "../calendar";
import { airAt, airKnownAt, stretchEndAt, stretchIndexAt } from "../climate/history";
import { woodEquilibriumPercent } from "../climate/wood-moisture";
import type { HandTest, Surface } from "../shop/tables";
import { dayMs, hourMs, type InstantMs, minuteMs } from "../units";
import type { FacePart } from "./gate-answer";
import { filmOn, type Picture, staysKnownAt } from "./picture";

/** Source: common practice; Wood Handbook (FPL-GTR-282, 2021), ch. 16, about 12 % for wood that is to be painted. */
export const dryLimits = {
  meterPercent: 12,
  /** From the equilibrium of the room: common practice, no standard behind it. */
  fromEquilibriumPercent: 2,
  /** Lost in a day: common practice; a scale shows the same half percent of the dry wood as weight. */
  lostPerDayPercent: 0.5,
} as const;

/** Source: common practice; overnight at least, a day as a rule, two in damp weather. */
const waits = { likelyMin: 720, safeMin: 1440, dampMin: 2880, dampPercent: 70 } as const;
/** A night runs from midnight to six. */
const nightMs = 6 * hourMs;

/** The water that a surface was last given, where no film has been laid over its wood. */
export const washedAt = (picture: Picture, surface: Surface, at: InstantMs): InstantMs | undefined => {
  const { lastWaterAt, substrate } = surface;
  if (lastWaterAt === undefined || lastWaterAt > at || substrate === "metal") return undefined;
  return filmOn(picture, surface.id, at).length > 0 ? undefined : lastWaterAt;
};

type Weighed = HandTest & { measured: NonNullable<HandTest["measured"]> };

const measuredSince = (picture: Picture, surfaceId: string, wetAt: InstantMs, at: InstantMs): Weighed[] =>
  picture.tests
    .filter(
      (test): test is Weighed =>
        (test.kind === "moisture-meter" || test.kind === "weight") &&
        test.subject.of === "washed" &&
        test.subject.surfaceId === surfaceId &&
        test.measured !== undefined &&
        test.at > wetAt &&
        test.at <= at &&
        !(test.takenBackAt !== undefined && test.takenBackAt <= at),
    )
    .sort((one, other) => one.at - other.at || one.measured.value - other.measured.value);

const roomAirAt = (picture: Picture, at: InstantMs, known: InstantMs) => {
  const stay = staysKnownAt(picture, picture.piece.id, known).find(({ fromAt, toAt }) => fromAt <= at && at < toAt);
  const air = stay && picture.airByRoomId.get(stay.roomId);
  return air && airKnownAt(air, known);
};

/** What wood comes to in the air around the piece; nothing where nobody has read it. */
export const equilibriumAt = (picture: Picture, at: InstantMs): number | undefined => {
  const air = roomAirAt(picture, at, at);
  if (!air || air.endsAt === undefined || at > air.endsAt + air.gapLimitMin * minuteMs) return undefined;
  const found = airAt(air, Math.min(at, air.endsAt));
  if (!found.isKnown) return undefined;
  const percent = woodEquilibriumPercent(found.celsius, found.humidityPercent);
  return percent.ok ? percent.value : undefined;
};

type Reading = { meterPercent: number; equilibriumPercent: number | undefined; dayBeforePercent?: number };

/**
 * Whether a meter's reading says that wood is dry enough to coat.
 *
 * @param meterPercent % of the dry weight, as the meter shows it at the thickest, most sheltered spot
 * @param equilibriumPercent what the room's air makes of wood; unknown: the reading cannot be judged
 * @param dayBeforePercent a reading at least 24 h before, if there is one
 * @source common practice; the limits are `dryLimits`
 * @example meterSays({ meterPercent: 10.2, equilibriumPercent: 9.27, dayBeforePercent: 10.4 }) // "dry"
 */
export const meterSays = ({
  meterPercent,
  equilibriumPercent,
  dayBeforePercent,
}: Reading): "dry" | "wet" | "nothing" => {
  // a tenth is what a meter shows; a rounding in the last bit decides nothing
  const isWithin = (found: number, limit: number) => found <= limit + 1e-9;
  if (!isWithin(meterPercent, dryLimits.meterPercent)) return "wet";
  if (dayBeforePercent !== undefined && !isWithin(dayBeforePercent - meterPercent, dryLimits.lostPerDayPercent))
    return "wet";
  if (equilibriumPercent === undefined) return "nothing";
  return isWithin(Math.abs(meterPercent - equilibriumPercent), dryLimits.fromEquilibriumPercent) ? "dry" : "wet";
};

/** Weighed twice, a day or more apart: dry once it loses no more than half a percent. One weighing says nothing. */
const scaleSays = (grams: number, dayBeforeGrams: number | undefined) => {
  if (dayBeforeGrams === undefined) return "nothing";
  return (100 * (dayBeforeGrams - grams)) / dayBeforeGrams <= dryLimits.lostPerDayPercent ? "dry" : "wet";
};

/** The humidity of the time since the water, as far as it was read, over a safe day at most. */
const meanHumidityPercent = (picture: Picture, fromAt: InstantMs, at: InstantMs): number | undefined => {
  const untilAt = Math.min(at, fromAt + waits.safeMin * minuteMs);
  let [sum, knownMs] = [0, 0];
  for (const stay of staysKnownAt(picture, picture.piece.id, at)) {
    const room = picture.airByRoomId.get(stay.roomId);
    const air = room && airKnownAt(room, at);
    if (!air || air.endsAt === undefined) continue;
    const [startAt, endAt] = [Math.max(fromAt, stay.fromAt), Math.min(untilAt, stay.toAt, air.endsAt)];
    for (let index = Math.max(0, stretchIndexAt(air, startAt)); index < air.startsAt.length; index += 1) {
      const [start, end] = [air.startsAt[index] as number, stretchEndAt(air, index)];
      const lengthMs = Math.min(end, endAt) - Math.max(start, startAt);
      if (start >= endAt) break;
      if (lengthMs <= 0 || air.isKnown[index] === 0) continue;
      const middle = ((air.startHumidityPercent[index] as number) + (air.endHumidityPercent[index] as number)) / 2;
      sum += middle * lengthMs;
      knownMs += lengthMs;
    }
  }
  return knownMs > 0 ? sum / knownMs : undefined;
};

/** One reading of a meter or a scale. */
export type WoodMeasure = Pick<Weighed, "kind" | "at" | "measured">;

/** What the last of the readings since the water says, with the one a day before it. */
const measuresSay = (picture: Picture, measures: readonly WoodMeasure[], last: WoodMeasure) => {
  const dayBefore = measures.findLast((one) => one.kind === last.kind && one.at <= last.at - dayMs)?.measured.value;
  if (last.kind === "weight") return { says: scaleSays(last.measured.value, dayBefore) };
  const [meterPercent, equilibriumPercent] = [last.measured.value, equilibriumAt(picture, last.at)];
  const reading = { meterPercent, equilibriumPercent, ...(dayBefore !== undefined && { dayBeforePercent: dayBefore }) };
  return {
    says: meterSays(reading),
    meterPercent,
    ...(equilibriumPercent !== undefined && { equilibriumPercent }),
  };
};

/** What a reading in hand would say of a surface, before it is written down. */
export const measureSays = (picture: Picture, surface: Surface, measure: WoodMeasure) =>
  measuresSay(
    picture,
    measuredSince(picture, surface.id, surface.lastWaterAt ?? Number.NEGATIVE_INFINITY, measure.at),
    measure,
  );

export type Dryness = {
  isDry: boolean;
  lastWaterAt: InstantMs;
  meterPercent?: number;
  equilibriumPercent?: number;
  /** When waiting makes it dry; absent where a meter or a scale said wet and must say otherwise first. */
  safeAt?: InstantMs;
  likelyAt?: InstantMs;
};

/**
 * How dry the bare wood of a surface is.
 *
 * @returns nothing where no water is known, or a film lies over it
 */
export const woodDryness = (picture: Picture, surface: Surface, at: InstantMs): Dryness | undefined => {
  const lastWaterAt = washedAt(picture, surface, at);
  if (lastWaterAt === undefined) return undefined;
  const nightOverAt = dayEndAt(shopDayAt(lastWaterAt, picture.shop.zone), picture.shop.zone) + nightMs;
  const measured = measuredSince(picture, surface.id, lastWaterAt, at);
  const last = measured.at(-1);
  const { says, ...numbers } = last ? measuresSay(picture, measured, last) : { says: "nothing" as const };
  const found = { lastWaterAt, ...numbers };
  if (says === "wet") return { isDry: false, ...found };
  if (says === "dry" && last) {
    const safeAt = Math.max(nightOverAt, last.at);
    return { isDry: at >= safeAt, ...found, safeAt, likelyAt: safeAt };
  }
  const humidityPercent = meanHumidityPercent(picture, lastWaterAt, at);
  // air that nobody has read may be damp
  const isDamp = humidityPercent === undefined || humidityPercent >= waits.dampPercent;
  const after = (minutes: number) => Math.max(nightOverAt, lastWaterAt + minutes * minuteMs);
  const safeAt = after(isDamp ? waits.dampMin : waits.safeMin);
  return { isDry: at >= safeAt, ...found, safeAt, likelyAt: Math.min(safeAt, after(waits.likelyMin)) };
};

/** The wood's part in a gate over a bare surface; nothing where it was never wet. */
export const woodPart = (picture: Picture, surfaceId: string, at: InstantMs): FacePart | undefined => {
  const surface = picture.surfaces.find(({ id }) => id === surfaceId);
  const dryness = surface && woodDryness(picture, surface, at);
  if (!dryness) return undefined;
  const { isDry, lastWaterAt, meterPercent, equilibriumPercent, safeAt, likelyAt } = dryness;
  return {
    state: isDry ? "open" : "shut",
    ...(isDry && { sinceAt: safeAt }),
    ...(safeAt !== undefined && { safeAt }),
    ...(likelyAt !== undefined && { likelyAt }),
    heldBy: { milestone: "recoat-opens", surfaceId },
    evidence: meterPercent === undefined ? "sheet" : "test",
    needs: isDry
      ? []
      : [
          {
            kind: "wood-wet",
            surfaceId,
            lastWaterAt,
            ...(meterPercent !== undefined && { meterPercent }),
            ...(equilibriumPercent !== undefined && { equilibriumPercent }),
          },
        ],
  };
};
