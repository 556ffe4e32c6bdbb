/** A reading of a thermometer while it is written down, and what is sent of it. */
import { accept, type Result, refuse } from "~/core/result";
import { readMoment, type TypedMoment } from "../kit/typed-moment";

export type ReadingDraft = {
  airCelsius: number;
  humidityPercent: number;
  /** NaN: not measured. */
  surfaceCelsius: number;
  at: TypedMoment;
  /** A minimum-maximum thermometer: the lowest air and the highest humidity since then. */
  isSpan: boolean;
  spanFrom: TypedMoment;
};

export type ReadingErrors = Partial<Record<"air" | "humidity" | "at" | "spanFrom", string>>;

export const newReading = (now: TypedMoment): ReadingDraft => ({
  airCelsius: Number.NaN,
  humidityPercent: Number.NaN,
  surfaceCelsius: Number.NaN,
  at: now,
  isSpan: false,
  spanFrom: { ...now, time: "" },
});

const toTenth = (value: number): number => Math.round(value * 10) / 10;

/** The body of `record-reading`. */
export function readingOf(
  draft: ReadingDraft,
  { readingId, roomId, zone }: { readingId: string; roomId: string; zone: string },
): Result<Record<string, unknown>, ReadingErrors> {
  const errors: ReadingErrors = {};
  if (Number.isNaN(draft.airCelsius)) errors.air = "Write what the thermometer shows.";
  if (Number.isNaN(draft.humidityPercent)) errors.humidity = "Write what the hygrometer shows.";
  const at = readMoment(draft.at, zone);
  if (!at.ok) errors.at = at.refusal;
  const from = draft.isSpan ? readMoment(draft.spanFrom, zone) : undefined;
  if (from && !from.ok) errors.spanFrom = from.refusal;
  if (from?.ok && at.ok && from.value.at >= at.value.at)
    errors.spanFrom = "It was set back before it was read. Mend one of the two times.";
  if (Object.keys(errors).length > 0 || !at.ok) return refuse(errors);
  return accept({
    readingId,
    roomId,
    at: at.value.at,
    airCelsius: toTenth(draft.airCelsius),
    humidityPercent: toTenth(draft.humidityPercent),
    ...(Number.isNaN(draft.surfaceCelsius) ? {} : { surfaceCelsius: toTenth(draft.surfaceCelsius) }),
    ...(from?.ok ? { spanFromAt: from.value.at } : {}),
  });
}
