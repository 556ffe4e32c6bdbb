/** What a room's logger wrote: 15 °C for eight days, but for one night that was cold. */
const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const everyMs = 10 * minuteMs;
const daysBack = 8;
export const usualCelsius = 15;
const coldCelsius = 5;
const coldHours = 8;

export type Logged = { csv: string; celsiusAt: (at: number) => number };

/** @param coldFromAt when the cold night began */
export function loggedWeek(now: number, coldFromAt: number): Logged {
  const marks: number[] = [];
  const firstAt = Math.ceil((now - daysBack * 24 * hourMs) / everyMs) * everyMs;
  for (let at = firstAt; at <= now; at += everyMs) marks.push(at);
  const isCold = (at: number) => at >= coldFromAt && at < coldFromAt + coldHours * hourMs;
  const logged = (at: number) => (isCold(at) ? coldCelsius : usualCelsius);
  const rows = marks.map((at) => `${new Date(at).toISOString()},${logged(at).toFixed(1)},50.0`);
  return {
    csv: ["Time,Temperature (°C),Humidity (%)", ...rows].join("\n"),
    // between two rows the air runs in a straight line; after the last one it is taken to stay as it usually is
    celsiusAt: (at) => {
      if (at > now) return usualCelsius;
      const before = Math.floor(at / everyMs) * everyMs;
      return logged(before) + ((at - before) / everyMs) * (logged(before + everyMs) - logged(before));
    },
  };
}

/**
 * The minute from which a film has earned what its sheet asks for: each minute counts 2^((T − reference) / 10), never more
 * than a minute. Source of the factor 2 per 10 °C: ASTM F1980.
 */
export function earnedAt(
  film: { laidAt: number; neededMin: number; referenceCelsius: number },
  celsiusAt: Logged["celsiusAt"],
): number {
  let at = film.laidAt;
  for (let earnedMin = 0; earnedMin < film.neededMin; at += minuteMs) {
    earnedMin += Math.min(1, 2 ** ((celsiusAt(at) - film.referenceCelsius) / 10));
  }
  return at;
}

/** How the screens say an instant of the next days, at the shop: "Fri 05:15", or "05:15" today. */
export function saidAt(at: number, now: number, timeZone: string): string {
  const parts = (instant: number, options: Intl.DateTimeFormatOptions) =>
    new Intl.DateTimeFormat("en-GB", { timeZone, ...options }).format(instant);
  const clock = parts(at, { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
  const isToday = parts(at, { dateStyle: "short" }) === parts(now, { dateStyle: "short" });
  return isToday ? clock : `${parts(at, { weekday: "short" })} ${clock}`;
}
