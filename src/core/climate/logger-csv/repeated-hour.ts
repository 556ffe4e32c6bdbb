/**
 * The hour that an autumn night shows twice. A logger writes the same wall times again; the order of its rows tells the
 * first pass from the second.
 */
import type { WallMs } from "../../calendar";

/** A wall time of the file in the order of time, with the instants it can stand for. */
export type LoggedWall = { wall: WallMs; at: number; secondAt?: number };

export type PassCounts = {
  /** Rows of the repeated hour that stand in their pass because of the order of the rows. */
  settledByOrder: number;
  /** Rows of a repeated hour that the file has once only: taken for the first. */
  takenForFirst: number;
};

/** Moves the rows of second passes to their second instant, in place. */
export function settlePasses(rows: readonly LoggedWall[]): PassCounts {
  const counts = { settledByOrder: 0, takenForFirst: 0 };
  for (let start = 0; start < rows.length; start++) {
    if (rows[start]?.secondAt === undefined) continue;
    let end = start;
    while (rows[end]?.secondAt !== undefined) end++;
    const run = rows.slice(start, end);
    const secondPass = secondPassIn(run);
    if (secondPass === undefined) counts.takenForFirst += run.length;
    else {
      counts.settledByOrder += run.length;
      for (const row of run.slice(secondPass)) row.at = row.secondAt ?? row.at;
    }
    start = end;
  }
  return counts;
}

/** Where the clock jumped back: the only step backwards or, with a reading an hour, the only repetition. */
function secondPassIn(run: readonly LoggedWall[]): number | undefined {
  const stepOf = (index: number) => (run[index]?.wall ?? 0) - (run[index - 1]?.wall ?? 0);
  const later = run.map((_, index) => index).slice(1);
  const backwards = later.filter((index) => stepOf(index) < 0);
  if (backwards.length > 0) return backwards.length === 1 ? backwards[0] : undefined;
  const repeated = later.filter((index) => stepOf(index) === 0);
  return repeated.length === 1 ? repeated[0] : undefined;
}
