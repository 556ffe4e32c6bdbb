import * as z from "zod/mini";
import { text } from "../../text";
import { instant, quantity, shopDay } from "../../units";
import { boardId, idOf, intentId, memberId, roomId } from "./ids";

export const boardRow = z.object({ id: boardId, name: text(60), closedOn: z.optional(shopDay) });

export const roomUses = ["spray", "cure", "bench", "store", "away"] as const;

export const roomRow = z.object({
  id: roomId,
  name: text(40),
  uses: z.array(z.enum(roomUses)).check(z.minLength(1)),
  usualCelsius: quantity("airCelsius"),
  usualHumidityPercent: quantity("humidityPercent"),
  gapLimitMin: quantity("gapLimitMin"),
  racks: z.array(
    z.object({ rackId: idOf<"rack">(), name: text(40), squareDecimetres: quantity("rackSquareDecimetres") }),
  ),
  hasOpenFlame: z.boolean(),
  closedAt: z.optional(instant),
});

export const readingSources = ["hand", "logger", "import"] as const;

export const readingRow = z.object({
  id: idOf<"reading">(),
  roomId,
  at: instant,
  airCelsius: quantity("airCelsius"),
  humidityPercent: quantity("humidityPercent"),
  surfaceCelsius: z.optional(quantity("surfaceCelsius")),
  /** A minimum-maximum thermometer: lowest air and highest humidity since then. */
  spanFromAt: z.optional(instant),
  source: z.enum(readingSources),
  importId: z.optional(intentId),
  retractedAt: z.optional(instant),
  retractedWhy: z.optional(text(300)),
  /** Delivered after the end of its maker's membership: the owner has not said yet whether it is so. */
  needsWord: z.optional(z.literal("delivered-after-the-end")),
});

/** What a room will be like, hour by hour, where somebody says so; the pattern of its last days holds beyond. */
export const forecastRow = z.object({
  id: idOf<"forecast">(),
  roomId,
  source: z.enum(["typed", "import"]),
  setAt: instant,
  setBy: memberId,
  hours: z
    .array(
      z.object({
        fromAt: instant,
        lowCelsius: quantity("airCelsius"),
        likelyCelsius: quantity("airCelsius"),
        likelyHumidityPercent: quantity("humidityPercent"),
        highHumidityPercent: quantity("humidityPercent"),
      }),
    )
    .check(z.minLength(1), z.maxLength(240)),
});
