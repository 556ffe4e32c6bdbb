/** The figures behind the answers, for whoever wants to check them. */
import { roomForecast, storedUntilAt } from "~/core/climate/forecast";
import type { RoomAir } from "~/core/climate/history";
import { absoluteHumidityGramsPerCubicMetre, vapourDeficitKilopascal } from "~/core/climate/vapour";
import { woodEquilibriumPercent } from "~/core/climate/wood-moisture";
import type { Forecast } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { celsius, moment } from "../format";
import type { RoomReading } from "./room-shown";

export type Figure = { label: string; words: string };

const woodWords = (airCelsius: number, humidityPercent: number): string => {
  const found = woodEquilibriumPercent(airCelsius, humidityPercent);
  if (found.ok) return `comes to ${found.value.toFixed(1)} % in the long run`;
  return found.refusal.kind === "near-fibre-saturation"
    ? "near fibre saturation: there is no figure for air this damp"
    : "no figure for air this cold or hot";
};

export function airFigures({
  airCelsius,
  humidityPercent,
  surfaceCelsius,
  dewPointCelsius,
  spread,
}: RoomReading): Figure[] {
  return [
    ...(surfaceCelsius === undefined ? [] : [{ label: "Surface", words: `${celsius(surfaceCelsius)}, measured` }]),
    { label: "Dew point", words: `${dewPointCelsius.toFixed(1)} °C` },
    {
      label: "Above dew point",
      words: spread
        ? `${spread.celsius.toFixed(1)} °C, ${spread.isSurfaceMeasured ? "the measured surface" : "by the coldest air of the last six hours"}`
        : "not known: the reading is too old",
    },
    { label: "Wood in here", words: woodWords(airCelsius, humidityPercent) },
    {
      label: "Water in the air",
      words: `${absoluteHumidityGramsPerCubicMetre(airCelsius, humidityPercent).toFixed(1)} g in a cubic metre`,
    },
    {
      label: "Drying pull",
      words: `${vapourDeficitKilopascal(airCelsius, humidityPercent).toFixed(2)} kPa of vapour missing (23 °C, 50 %: 1.40)`,
    },
  ];
}

/** On what the hours to come rest. */
export function forecastWords(
  air: RoomAir,
  forecast: Forecast | undefined,
  names: { member: (id: string) => string },
  now: InstantMs,
  zone: string,
): string {
  const untilAt = storedUntilAt(air);
  const known = roomForecast(air)?.hoursKnown;
  const pattern =
    known === undefined ? undefined : `as at the same hour of the last seven days (${known} of 168 hours known)`;
  if (forecast && untilAt !== undefined && untilAt > now) {
    const who = forecast.source === "typed" ? "typed" : "imported";
    return `${who} by ${names.member(forecast.setBy)}, ${moment(forecast.setAt, now, zone)}, until ${moment(untilAt, now, zone)}${pattern ? `; then ${pattern}` : ""}`;
  }
  return pattern ?? "nothing known";
}
