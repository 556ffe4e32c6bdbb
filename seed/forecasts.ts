import { hourMs } from "~/core/units";
import { rain } from "./air";
import type { Wall, WeekClock, Weekday } from "./clock";
import { idOf } from "./names";
import type { Pen } from "./pen";
import { roomIdOf } from "./rooms";
import type { Line } from "./script";

/** A forecast may be half a degree and four per cent out and the day still goes as it says. Made up. */
const lowerCelsius = 0.5;
const damperPercent = 4;

/** Fern has heard of rain and types what it will make of the spray room. */
export function rainForetold(pen: Pen, when: Wall, week: WeekClock, day: Weekday): Line {
  const hours = rain.flatMap(({ from, until, airCelsius, humidityPercent }) => {
    const [fromAt, untilAt] = [week.at(`${day} ${from}`), week.at(`${day} ${until}`)];
    return Array.from({ length: (untilAt - fromAt) / hourMs }, (_, hour) => ({
      fromAt: fromAt + hour * hourMs,
      lowCelsius: airCelsius - lowerCelsius,
      likelyCelsius: airCelsius,
      likelyHumidityPercent: humidityPercent,
      highHumidityPercent: humidityPercent + damperPercent,
    }));
  });
  const forecastId = idOf("forecast of the spray room");
  return pen.write(when, "fern", "type-forecast", { forecastId, roomId: roomIdOf("spray"), source: "typed", hours });
}
