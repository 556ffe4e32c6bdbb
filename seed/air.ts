/**
 * The air of the invented shop: a reading every ten minutes in each room that is read, and one right before every step,
 * so that a step has its minute. Figures are made up.
 */
import { type InstantMs, minuteMs } from "~/core/units";
import type { WeekClock } from "./clock";
import { type ReadRoom, readRooms, roomIdOf } from "./rooms";
import type { Line, Write } from "./script";

/** From then on the air is so, until the next step. */
type Step = { fromAt: InstantMs; airCelsius: number; humidityPercent: number };
export type WeekAir = Record<ReadRoom, readonly Step[]>;

const air = (fromAt: InstantMs, airCelsius: number, humidityPercent: number): Step => ({
  fromAt,
  airCelsius,
  humidityPercent,
});

const weekdays = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;

const usualSpray = (clock: WeekClock): Step[] => [
  air(clock.startsAt, 14, 58),
  ...weekdays.flatMap((day) => [
    air(clock.at(`${day} 08:00`), 19, 48),
    // at 18:00 it is still warm, when what was sprayed is carried out
    air(clock.at(`${day} 18:01`), 14, 58),
  ]),
];

export const usualAir = (clock: WeekClock): WeekAir => ({
  spray: usualSpray(clock),
  loft: [air(clock.startsAt, 18, 50)],
  coldBay: [air(clock.startsAt, 9, 72)],
});

/** What a day of rain makes of the spray room: damp until noon, then better. */
export const rain = [
  { from: "08:00", until: "13:00", airCelsius: 17, humidityPercent: 78 },
  { from: "13:00", until: "18:00", airCelsius: 18, humidityPercent: 62 },
] as const;

/** A week with rain on its Thursday. */
export const rainyAir = (clock: WeekClock): WeekAir => {
  const usual = usualAir(clock);
  const thursday = clock.at("Thu 08:00");
  return {
    ...usual,
    spray: [
      ...usual.spray.filter((step) => step.fromAt !== thursday),
      ...rain.map((part) => air(clock.at(`Thu ${part.from}`), part.airCelsius, part.humidityPercent)),
    ].sort((a, b) => a.fromAt - b.fromAt),
  };
};

/** The week in which the loft's heater tripped in the night to Wednesday, and it rained on Thursday. */
export const demoAir = (clock: WeekClock): WeekAir => {
  const usual = rainyAir(clock);
  return {
    ...usual,
    loft: [
      ...usual.loft,
      air(clock.at("Wed 01:00"), 8, 68),
      air(clock.at("Wed 06:30"), 14, 60),
      air(clock.at("Wed 09:00"), 18, 50),
    ],
  };
};

export function airAt(steps: readonly Step[], at: InstantMs): Omit<Step, "fromAt"> {
  const now = steps.findLast((step) => step.fromAt <= at);
  if (!now) throw new Error("the week has not begun");
  return { airCelsius: now.airCelsius, humidityPercent: now.humidityPercent };
}

const everyMs = 10 * minuteMs;
/**
 * When the loggers are read out. Where films cure, no reading is older in working hours than the gap that the room bears;
 * the night's readings come in the morning, and the cold bay's once a day.
 */
const readOutHours: Record<ReadRoom, readonly number[]> = {
  spray: [6, 9, 12, 15, 18, 21],
  loft: [6, 9, 12, 15, 18, 21],
  coldBay: [6],
};

function instantsBetween(steps: readonly Step[], fromAt: InstantMs, toAt: InstantMs): InstantMs[] {
  const instants = new Set<InstantMs>();
  for (let at = Math.ceil(fromAt / everyMs) * everyMs; at <= toAt; at += everyMs) instants.add(at);
  for (const step of steps) instants.add(step.fromAt).add(step.fromAt - minuteMs);
  return [...instants].filter((at) => at > fromAt && at <= toAt).sort((a, b) => a - b);
}

type AirOfWeek = { clock: WeekClock; write: Write; air: WeekAir };

/** What the logger of a room holds of one stretch of time, sent when it is over. */
function packet({ write, air }: AirOfWeek, room: ReadRoom, fromAt: InstantMs, toAt: InstantMs): Line {
  const at = instantsBetween(air[room], fromAt, toAt);
  const read = at.map((instant) => airAt(air[room], instant));
  return write(toAt, "logger", "import-readings", {
    roomId: roomIdOf(room),
    at,
    airTenths: read.map(({ airCelsius }) => Math.round(airCelsius * 10)),
    humidityTenths: read.map(({ humidityPercent }) => Math.round(humidityPercent * 10)),
  });
}

/** All rooms' readings of a stretch in one file each. */
export const packetOfEach = (week: AirOfWeek, fromAt: InstantMs, toAt: InstantMs): Line[] =>
  readRooms.map((room) => packet(week, room, fromAt, toAt));

/**
 * The readings of some of a week, as they come.
 *
 * @param fromAt was read before
 * @param toAt the last packets end here, however short
 */
export const packets = (week: AirOfWeek, fromAt: InstantMs, toAt: InstantMs): Line[] =>
  readRooms.flatMap((room) => {
    const ends = weekdays
      .flatMap((day) => readOutHours[room].map((hour) => week.clock.at(`${day} ${String(hour).padStart(2, "0")}:00`)))
      .filter((at) => at > fromAt && at < toAt);
    const lines: Line[] = [];
    let start = fromAt;
    for (const end of [...ends, toAt]) {
      if (end - start < everyMs) continue;
      lines.push(packet(week, room, start, end));
      start = end;
    }
    return lines;
  });
