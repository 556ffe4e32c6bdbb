import { dayStartAt, shopDayAt } from "../../calendar";
import { hourMs, type InstantMs } from "../../units";

type Moment = { at: InstantMs; airCelsius: number };

const hoursOfDay = 24;
/** Two weeks show what a day is like; asking the calendar about a year of hours takes long. */
const mostMoments = 14 * hoursOfDay;
/** A room that swings by less has no warmest hour to speak of. Choice of this product. */
const leastSwingCelsius = 2;

const hourInShop = (at: InstantMs, zone: string) =>
  Math.min(hoursOfDay - 1, Math.floor((at - dayStartAt(shopDayAt(at, zone), zone)) / hourMs));

const medianOf = (values: readonly number[]): number => {
  const sorted = [...values].sort((one, other) => one - other);
  const [low, high] = [(sorted.length - 1) >> 1, sorted.length >> 1];
  return ((sorted[low] as number) + (sorted[high] as number)) / 2;
};

/**
 * The hour at which the days of a series are warmest, by the wave of 24 hours that fits its hours best.
 *
 * @param moments one an hour
 * @returns 0 to under 24 in the shop's zone; nothing where some hour of the day was never read or the days hardly swing
 * @source the first term of a Fourier series, for the median of each hour: one cold night is not how the days are
 */
export function warmestHourOf(moments: readonly Moment[], zone: string): number | undefined {
  const celsiusByHour = Array.from({ length: hoursOfDay }, (): number[] => []);
  for (const { at, airCelsius } of moments.slice(-mostMoments)) celsiusByHour[hourInShop(at, zone)]?.push(airCelsius);
  if (celsiusByHour.some((found) => found.length === 0)) return undefined;
  let [along, across] = [0, 0];
  for (const [hour, found] of celsiusByHour.entries()) {
    const usual = medianOf(found);
    along += (usual * Math.cos((2 * Math.PI * hour) / hoursOfDay) * 2) / hoursOfDay;
    across += (usual * Math.sin((2 * Math.PI * hour) / hoursOfDay) * 2) / hoursOfDay;
  }
  if (2 * Math.hypot(along, across) < leastSwingCelsius) return undefined;
  const hour = (Math.atan2(across, along) * hoursOfDay) / (2 * Math.PI);
  return (hour + hoursOfDay) % hoursOfDay;
}
