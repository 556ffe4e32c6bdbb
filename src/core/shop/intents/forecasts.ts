import * as z from "zod/mini";
import { farthestHours, hourFaults } from "../../climate/forecast-fit";
import { accepted, alreadySo, changed, defineIntent, made, refused } from "../define";
import { idOf, roomId } from "../entities/ids";
import { partners } from "../roles";

/** Plain numbers: their bounds are checked hour by hour below, so that a refusal can name every hour that is wrong. */
const typedHour = z.object({
  fromAt: z.number(),
  lowCelsius: z.number(),
  likelyCelsius: z.number(),
  likelyHumidityPercent: z.number(),
  highHumidityPercent: z.number(),
});

/** What a room will be like, hour by hour: stands before the pattern of its last days. Replaced whole; the last counts. */
export const typeForecast = defineIntent({
  kind: "type-forecast",
  sort: "plan",
  who: partners,
  body: z.object({
    /** The forecast's own id, used where the room has none yet. */
    forecastId: idOf<"forecast">(),
    roomId,
    source: z._default(z.enum(["typed", "import"]), "typed"),
    hours: z.array(typedHour).check(z.minLength(1), z.maxLength(farthestHours)),
  }),
  reads: (body) => [
    { table: "room", id: body.roomId },
    { table: "forecast", field: "roomId", value: body.roomId },
  ],
  judge: (c) => {
    const { forecastId, roomId: ofRoom, source, hours } = c.body;
    const { madeAt } = c.when;
    const room = c.facts.get("room", ofRoom);
    if (!room) return refused({ kind: "unknown-thing", field: "roomId" });
    if (room.closedAt !== undefined)
      return refused({ kind: "after-it-left", thing: room.name, happenedAt: madeAt, leftAt: room.closedAt });
    const faults = hourFaults(hours, madeAt);
    if (faults.length > 0) return refused({ kind: "forecast-not-fit", roomId: ofRoom, hours: faults });
    const set = { source, setAt: madeAt, setBy: c.by.id, hours };
    const before = c.facts.where("forecast", "roomId", ofRoom)[0];
    if (before && before.source === source && JSON.stringify(before.hours) === JSON.stringify(hours))
      return alreadySo();
    const change = before
      ? changed("forecast", before.id, set)
      : made("forecast", { id: forecastId, roomId: ofRoom, ...set });
    return accepted({ kind: "forecast-set", memberId: c.by.id, changes: [change] });
  },
});
