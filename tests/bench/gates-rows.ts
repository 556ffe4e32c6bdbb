import { measureGates } from "./gates";
import type { Depth, GatesFigures } from "./gates-alone";
import { atMost, ms, type Row, times } from "./rows";

/** What is to be reached, of the processor where nobody disturbs it. */
const [coldLimitMs, afterReadingLimitMs, worstLimitSeconds] = [100, 5, 60];

const words: Record<Depth, string> = {
  "open-or-not": "every gate, open or not",
  "with-times": "every gate with its times",
};

const rowsOf = (depth: Depth, found: GatesFigures): Row[] => {
  const what = words[depth];
  return [
    { what: `${what}: cold, the first work of a process`, value: ms(found.firstColdMs) },
    { what: `${what}: cold, once the process is warm`, value: ms(found.coldMs) },
    atMost(`${what}: the same at best`, found.leastColdMs, coldLimitMs, ms),
    { what: `${what}: after one reading where a sixth of the pieces stand`, value: ms(found.afterReadingMs) },
    atMost(`${what}: the same at best`, found.leastAfterReadingMs, afterReadingLimitMs, ms),
  ];
};

export function gatesRows(): Row[] {
  const found = measureGates();
  const film = found["with-times"];
  const seconds = (value: number) => `${value.toFixed(3)} s`;
  return [
    { what: "gates of 500 pieces, 5,000 coats, 90 days of readings in 8 rooms", value: `${film.gates}` },
    ...rowsOf("open-or-not", found["open-or-not"]),
    ...rowsOf("with-times", film),
    { what: "one film of 90 days worked out line by line", value: ms(film.reintegrateOneFilmMs) },
    { what: "looking once at every reading", value: ms(film.lookAtReadingsMs) },
    { what: "with times: cold against one film", value: times(film.coldMs / film.reintegrateOneFilmMs) },
    { what: "with times: a reading against looking once", value: times(film.afterReadingMs / film.lookAtReadingsMs) },
    atMost("instants looked up against worked out, at worst", film.worstSeconds, worstLimitSeconds, seconds),
  ];
}
