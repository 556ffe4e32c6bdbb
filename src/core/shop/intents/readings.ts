import * as z from "zod/mini";
import { text } from "../../text";
import { dayMs, hourMs, type InstantMs, instant, minuteMs, quantity } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { idOf, intentId, roomId } from "../entities/ids";
import type { Role } from "../entities/people";
import type { Change } from "../event";
import type { Refusal } from "../refusal";
import { floorHands, partners } from "../roles";
import type { Reading, Room } from "../tables";
import { lateReading } from "./late-reports";

/** How long after looking at a thermometer each role may still write it down. */
const handBackMs: Partial<Record<Role, number>> = { helper: 48 * hourMs, partner: 30 * dayMs, owner: 30 * dayMs };
/** A logger is read out once a season, and last year's may still be wanted. */
const importBackMs = 400 * dayMs;
/** A clock may run ahead by a rounding, not by more. */
const aheadMs = 2 * minuteMs;
const longestSpanMs = 7 * dayMs;

/** Is a time of reading one that this role may write down now, in a room that there was? */
function untimeliness(
  c: Pick<Context<unknown>, "role" | "when">,
  room: Room,
  times: { firstAt: InstantMs; lastAt: InstantMs; backMs: number; mayAsk: Role[] },
): Refusal | undefined {
  const { madeAt } = c.when;
  if (times.lastAt > madeAt + aheadMs) return { kind: "in-the-future", happenedAt: times.lastAt, latestAt: madeAt };
  const oldestAt = madeAt - times.backMs;
  if (times.firstAt < oldestAt) {
    return { kind: "too-far-back", happenedAt: times.firstAt, oldestAt, role: c.role, mayAsk: times.mayAsk };
  }
  if (room.closedAt !== undefined && times.lastAt >= room.closedAt) {
    return { kind: "after-it-left", thing: room.name, happenedAt: times.lastAt, leftAt: room.closedAt };
  }
  return undefined;
}

const isSameAir = (one: Reading, other: Reading): boolean =>
  one.airCelsius === other.airCelsius &&
  one.humidityPercent === other.humidityPercent &&
  one.surfaceCelsius === other.surfaceCelsius &&
  one.spanFromAt === other.spanFromAt;

export const recordReading = defineIntent({
  kind: "record-reading",
  sort: "report",
  who: floorHands,
  outlivesMembership: true,
  body: z.object({
    readingId: idOf<"reading">(),
    roomId,
    at: instant,
    airCelsius: quantity("airCelsius"),
    humidityPercent: quantity("humidityPercent"),
    surfaceCelsius: z.optional(quantity("surfaceCelsius")),
    spanFromAt: z.optional(instant),
    source: z._default(z.enum(["hand", "logger"]), "hand"),
  }),
  reads: (body) => [
    { table: "room", id: body.roomId },
    { readingsOf: body.roomId, fromAt: body.at - aheadMs },
  ],
  judge: (c) => {
    const { readingId: id, ...fields } = c.body;
    const room = c.facts.get("room", fields.roomId);
    if (!room) return refused({ kind: "unknown-thing", field: "roomId" });
    const backMs = handBackMs[c.role] ?? 0;
    const mayAsk = floorHands.filter((role) => (handBackMs[role] ?? 0) > backMs);
    const untimely = untimeliness(c, room, { firstAt: fields.at, lastAt: fields.at, backMs, mayAsk });
    if (untimely) return refused(untimely);
    const at = Math.min(fields.at, c.when.madeAt);
    const span = spanFault(fields.spanFromAt, at);
    if (span) return refused(span);
    const reading: Reading = { id, ...fields, at, ...lateReading(c) };
    const there = c.facts
      .readings(room.id, at)
      .find((other) => other.at === at && other.source === fields.source && other.retractedAt === undefined);
    if (there && isSameAir(there, reading)) return alreadySo();
    if (there) {
      const { airCelsius, humidityPercent } = there;
      return refused({ kind: "reading-differs", roomId: room.id, at, airCelsius, humidityPercent });
    }
    return accepted({ kind: "reading-recorded", memberId: c.by.id, changes: [made("reading", reading)] });
  },
});

/** A minimum-maximum thermometer speaks for the time since it was set back, at most a week. */
function spanFault(spanFromAt: InstantMs | undefined, at: InstantMs): Refusal | undefined {
  if (spanFromAt === undefined) return undefined;
  if (spanFromAt >= at) return { kind: "ends-before-start", startedAt: spanFromAt, endedAt: at };
  const min = at - longestSpanMs;
  return spanFromAt < min ? { kind: "out-of-bounds", field: "spanFromAt", found: spanFromAt, min, max: at } : undefined;
}

export const retractReading = defineIntent({
  kind: "retract-reading",
  sort: "word",
  who: partners,
  body: z.object({ readingId: idOf<"reading">(), why: text(300) }),
  reads: (body) => [{ table: "reading", id: body.readingId }],
  judge: (c) => {
    const reading = c.facts.get("reading", c.body.readingId);
    if (!reading) return refused({ kind: "unknown-thing", field: "readingId" });
    if (reading.retractedAt !== undefined) return alreadySo();
    return accepted({
      kind: "reading-retracted",
      memberId: c.by.id,
      changes: [changed("reading", reading.id, { retractedAt: c.when.recordedAt, retractedWhy: c.body.why })],
    });
  },
});

const mostRows = 200_000;
/** A column of an import: whole numbers within these bounds, as many as there are instants. */
const column = (min: number, max: number) =>
  z.array(z.number().check(z.int(), z.gte(min), z.lte(max))).check(z.minLength(1), z.maxLength(mostRows));

const importBody = z
  .object({
    roomId,
    at: z.array(instant).check(z.minLength(1), z.maxLength(mostRows)),
    airTenths: column(-400, 600),
    humidityTenths: column(10, 1000),
  })
  .check(
    z.refine((body) => body.at.length === body.airTenths.length, { path: ["airTenths"] }),
    z.refine((body) => body.at.length === body.humidityTenths.length, { path: ["humidityTenths"] }),
    z.refine((body) => body.at.every((at, row) => row === 0 || (body.at[row - 1] as number) < at), { path: ["at"] }),
  );

/** The whole file of a logger, or nothing of it. Its import is known by the id of this intent. */
export const importReadings = defineIntent({
  kind: "import-readings",
  sort: "report",
  who: partners,
  onSharedTablet: false,
  body: importBody,
  reads: (body) => [
    { table: "room", id: body.roomId },
    { readingsOf: body.roomId, fromAt: body.at[0] as InstantMs },
  ],
  judge: (c) => {
    const { roomId: id, at, airTenths, humidityTenths } = c.body;
    const room = c.facts.get("room", id);
    if (!room) return refused({ kind: "unknown-thing", field: "roomId" });
    const [firstAt, lastAt] = [at[0] as InstantMs, at.at(-1) as InstantMs];
    const untimely = untimeliness(c, room, { firstAt, lastAt, backMs: importBackMs, mayAsk: [] });
    if (untimely) return refused(untimely);
    const there = new Set(
      c.facts
        .readings(room.id, firstAt)
        .filter((reading) => reading.source === "import" && reading.retractedAt === undefined)
        .map((reading) => reading.at),
    );
    const isNew = at.map((instantOfRow) => !there.has(instantOfRow));
    const kept = <Value>(values: Value[]): Value[] => values.filter((_, row) => isNew[row]);
    const newAt = kept(at);
    if (newAt.length === 0) return refused({ kind: "import-empty", badRows: at.length });
    const change: Change = {
      table: "reading",
      importId: c.intent.intentId,
      roomId: room.id,
      at: newAt,
      airTenths: kept(airTenths),
      humidityTenths: kept(humidityTenths),
    };
    return accepted({ kind: "readings-imported", memberId: c.by.id, changes: [change] });
  },
});

export const retractImport = defineIntent({
  kind: "retract-import",
  sort: "word",
  who: partners,
  body: z.object({ importId: intentId, why: text(300) }),
  reads: (body) => [{ table: "reading", field: "importId", value: body.importId }],
  judge: (c) => {
    const rows = c.facts.where("reading", "importId", c.body.importId);
    if (rows.length === 0) return refused({ kind: "unknown-thing", field: "importId" });
    if (rows.every((reading) => reading.retractedAt !== undefined)) return alreadySo();
    const set = { retractedAt: c.when.recordedAt, retractedWhy: c.body.why };
    return accepted({
      kind: "import-retracted",
      memberId: c.by.id,
      changes: [{ table: "reading", ofImport: c.body.importId, set }],
    });
  },
});
