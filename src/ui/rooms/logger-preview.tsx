import type { LoggerReadings } from "~/core/climate/logger-csv/read";
import { celsius, dayName, humidity, moment } from "../format";
import { Ledger } from "../kit/ledger";
import { badRowWords, linesWords } from "./logger-words";

export const rowsWords = (count: number): string => (count === 1 ? "1 row" : `${count} rows`);

const badRowsShown = 20;
const rowsShown = 3;

type LoggerPreviewProps = { readings: LoggerReadings; rowsToCome: number; zone: string };

/** What would be taken in, before it is: how much, from when to when, the first and last rows, and every row left out. */
export function LoggerPreview({ readings, rowsToCome, zone }: LoggerPreviewProps) {
  const { rows, fromAt, toAt, badRows, badRowCount, duplicatesDropped, duplicateLines } = readings;
  const { outOfOrderRows, outOfOrderLines, skippedHourRows, skippedHourLines, takenForFirst } = readings;
  const isLong = rows.length > 2 * rowsShown;
  const sample = isLong ? [...rows.slice(0, rowsShown), ...rows.slice(-rowsShown)] : rows;
  const full = (at: number) => `${dayName(at, zone)} ${moment(at, at, zone)}`;
  return (
    <section className="logger-preview">
      <h3>
        {rows.length} readings, {full(fromAt)} to {full(toAt)}
      </h3>
      <Ledger
        caption="First and last readings"
        columns={[
          { id: "at", words: "When" },
          { id: "air", words: "Air", isNumeric: true },
          { id: "humidity", words: "Humidity", isNumeric: true },
        ]}
        rows={sample.map((row) => ({
          id: String(row.at),
          cells: { at: full(row.at), air: celsius(row.airCelsius), humidity: humidity(row.humidityPercent) },
        }))}
      />
      {duplicatesDropped > 0 && (
        <p>
          {linesWords(duplicateLines, duplicatesDropped)}: the same as another row for the same time. Each counts once.
        </p>
      )}
      {outOfOrderRows > 0 && (
        <p>{linesWords(outOfOrderLines, outOfOrderRows)}: out of order. Every row is put where its time belongs.</p>
      )}
      {skippedHourRows > 0 && (
        <p>
          {linesWords(skippedHourLines, skippedHourRows)}: in the hour that the clocks skip in spring, read as an hour
          later. Perhaps this logger keeps one time all year.
        </p>
      )}
      {takenForFirst > 0 && (
        <p>{takenForFirst} rows of the hour that comes twice in autumn are taken for the first of the two.</p>
      )}
      {rowsToCome > 0 && <p>Left out as still to come: {rowsWords(rowsToCome)}.</p>}
      {badRowCount > 0 && (
        <>
          <h3>Left out: {rowsWords(badRowCount)}</h3>
          <ul className="logger-bad-rows">
            {badRows.slice(0, badRowsShown).map((row) => (
              <li key={row.line}>{badRowWords(row)}</li>
            ))}
          </ul>
          {badRowCount > badRowsShown && <p>And {badRowCount - badRowsShown} more.</p>}
        </>
      )}
    </section>
  );
}
