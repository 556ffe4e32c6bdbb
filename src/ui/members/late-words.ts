/** What was delivered after the end of a membership, in the words in which the owner is asked about it. */
import type { Row } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { celsius, humidity, moment } from "../format";
import type { Names } from "../wording/words";

export type LateShown = { by: string | null } & (
  | { of: "coat"; row: Row<"coat"> }
  | { of: "test"; row: Row<"test"> }
  | { of: "reading"; row: Row<"reading"> }
  | { of: "carry"; row: Row<"roomStay"> }
);

export type LateWords = { title: string; sentence: string; yes: string; no: string };

export function lateWords(late: LateShown, names: Names, pieceNumber: string, now: InstantMs, zone: string): LateWords {
  const who = names.member(late.by ?? "");
  switch (late.of) {
    case "coat": {
      const at = late.row.applied?.startedAt ?? now;
      return {
        title: `${pieceNumber}: a coat on ${names.surface(late.row.surfaceId)}`,
        sentence: `${who}, ${moment(at, now, zone)}. It is waited for as if it lay there.`,
        yes: "It was laid",
        no: "It was not: to be laid still",
      };
    }
    case "test": {
      const { kind, result, at } = late.row;
      const effect = result === "pass" ? "It opens nothing before your yes." : "It counts unless you say no.";
      return {
        title: `${pieceNumber}: ${kind.replaceAll("-", " ")}, ${result}`,
        sentence: `${who}, ${moment(at, now, zone)}. ${effect}`,
        yes: "It counts",
        no: "It does not count",
      };
    }
    case "reading": {
      const { roomId, at, airCelsius, humidityPercent } = late.row;
      return {
        title: `${names.room(roomId)}: ${celsius(airCelsius)}, ${humidity(humidityPercent)}`,
        sentence: `${who}, ${moment(at, now, zone)}. No film is reckoned with it before your yes.`,
        yes: "It counts",
        no: "It does not count",
      };
    }
    case "carry":
      return {
        title: `${pieceNumber}: carried to ${names.room(late.row.roomId)}`,
        sentence: `${who}, ${moment(late.row.fromAt, now, zone)}. The board shows it there.`,
        yes: "It was carried",
        no: "It was not: it stayed where it was",
      };
  }
}
