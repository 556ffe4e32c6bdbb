import type { HourAhead } from "../climate/forecast-hours";
import type { RoomAir } from "../climate/history";
import type { FilmLaw } from "./film-law";
import { type HoursAhead, hoursAhead } from "./hours-ahead";
import { type Air, type Clock, rateIn, slowClock } from "./rate";

/** What the coming hours of a room are worth to films of one law; each view of them is summed up once somebody asks for it. */
export class AirAhead {
  private readonly summed: { low?: HoursAhead; lastOrLow?: HoursAhead; likely?: HoursAhead } = {};

  /** @param last the last reading of the room */
  constructor(
    private readonly air: RoomAir,
    private readonly filmLaw: FilmLaw,
    private readonly last: Air,
  ) {}

  /** The forecast low. */
  get low(): HoursAhead {
    this.summed.low ??= this.sum(slowClock, (hour) => [hour.lowCelsius, hour.highHumidityPercent]);
    return this.summed.low;
  }

  /** The lower of the forecast low and the last reading. */
  get lastOrLow(): HoursAhead {
    const { last } = this;
    this.summed.lastOrLow ??= this.sum(slowClock, ({ lowCelsius, highHumidityPercent }) => [
      Math.min(lowCelsius, last.celsius),
      Math.max(highHumidityPercent, last.humidityPercent),
    ]);
    return this.summed.lastOrLow;
  }

  /** As it is likely to be, on the likely clock. */
  get likely(): HoursAhead {
    const { clock } = this.filmLaw.likely;
    this.summed.likely ??= this.sum(clock, (hour) => [hour.likelyCelsius, hour.likelyHumidityPercent]);
    return this.summed.likely;
  }

  private sum(clock: Clock, airOf: (hour: HourAhead) => [celsius: number, humidityPercent: number]): HoursAhead {
    return hoursAhead(this.air, (hour) => {
      const [celsius, humidityPercent] = airOf(hour);
      return rateIn(this.filmLaw.law, clock, { celsius, humidityPercent });
    }) as HoursAhead;
  }
}
