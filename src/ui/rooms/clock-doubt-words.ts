import type { ClockDoubt } from "~/core/climate/logger-csv/clock-doubt";
import { dayName, moment } from "../format";

const away = (shiftMin: number): string => {
  const hours = Math.abs(shiftMin) / 60;
  return hours === 24 ? "a day" : `${hours} h`;
};
const offWords = (shiftMin: number): string => `${away(shiftMin)} ${shiftMin > 0 ? "behind" : "ahead"}`;
const setWords = (shiftMin: number): string => `${shiftMin > 0 ? "Set it on" : "Set it back"} by ${away(shiftMin)}`;
const rowsWords = (count: number): string => (count === 1 ? "one row" : `${count} rows`);

export type DoubtWords = { title: string; found: string; set: string; keep: string };

/** What speaks against a logger's clock, and the two answers to it. */
export function clockDoubtWords(doubt: ClockDoubt, zone: string): DoubtWords {
  const { shiftMin } = doubt;
  const words = { set: setWords(shiftMin), keep: "Its clock is right" };
  switch (doubt.why) {
    case "agrees-shifted": {
      const [now, then] = [doubt.scatterCelsius, doubt.scatterShiftedCelsius].map((celsius) => celsius.toFixed(1));
      const way = shiftMin > 0 ? "later" : "earlier";
      return {
        ...words,
        title: `This logger’s clock seems ${offWords(shiftMin)}`,
        found:
          `Beside the room’s other readings, ${doubt.hoursCompared} hours of them, its air strays by ${now} °C as the file ` +
          `has it and by ${then} °C if all of it was ${away(shiftMin)} ${way}.`,
      };
    }
    case "still-to-come":
      return {
        ...words,
        title: `This logger’s clock seems ${offWords(shiftMin)}, or more`,
        found: `Its last row is of ${dayName(doubt.lastAt, zone)} ${moment(doubt.lastAt, doubt.lastAt, zone)}, still to come.`,
        keep: `Its clock is right: leave out the ${rowsWords(doubt.rows)} still to come`,
      };
    case "warm-at-night": {
      const hour = String(Math.floor(doubt.warmestHour)).padStart(2, "0");
      return {
        ...words,
        title: `Is this logger’s clock ${away(shiftMin)} off?`,
        found:
          `Its days are warmest towards ${hour}:00 in the night, and rooms mostly are in the afternoon. There is nothing ` +
          "else from this room to hold it against.",
      };
    }
  }
}
