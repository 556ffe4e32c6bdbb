/** Hours of the invented people, written with a timer as the work goes on. */
import type { Wall, WeekClock, Weekday } from "./clock";
import { idOf } from "./names";
import { type Pen, taskIdOf } from "./pen";
import { type Hand, hands } from "./people";
import { type PieceNumber, pieceIdOf } from "./pieces";
import type { Line } from "./script";

export const entryIdOf = (clock: WeekClock, hand: Hand, wall: Wall): string =>
  idOf(`entry ${hands[hand].person} ${clock.monday} ${wall}`);

/** One mark on the day: `09:00 K-202 bench mask-knots` starts a timer, `15:10` or `15:10 rest 30` stops it. */
type Mark = string;

const subjectOf = (piece: string, task: string | undefined) =>
  piece === "shop" ? [] : [{ pieceId: pieceIdOf(piece as PieceNumber), ...(task && { taskId: taskIdOf(task) }) }];

/**
 * A stretch of work. Each start stops the timer before it, as in the shop; only the last mark is a stop.
 *
 * @example shift(pen, "fern", "Mon", "08:00 K-207 spray", "10:30 K-203 bench", "12:00")
 */
export function shift(pen: Pen, by: Hand, day: Weekday, ...marks: readonly Mark[]): Line[] {
  const { clock, write } = pen;
  let running = "";
  return marks.map((mark) => {
    const [time, what, kind, task] = mark.split(" ") as [string, string?, string?, string?];
    const wall = `${day} ${time}` as Wall;
    if (what === undefined || what === "rest")
      return write(wall, by, "stop-timer", { entryId: running, ...(what && { restMin: Number(kind) }) });
    running = entryIdOf(clock, by, wall);
    return write(wall, by, "start-timer", { entryId: running, subjects: subjectOf(what, task), workKind: kind });
  });
}
