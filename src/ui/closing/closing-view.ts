/** What must not be left, what is in order and what stays as it is, as one person at the door sees it. */
import { shopDayAt } from "~/core/calendar";
import { type ClosingPoint, type StillOpen, stillOpen } from "~/core/safety/closing";
import type { Facts } from "~/core/shop/facts";
import type { Row } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { type ClosingLine, type Here, quietLines, seenWords, type TodoLine, todoLines } from "./closing-lines";
import { flameKeys, type SaidByKey } from "./closing-said";

export type ClosingView = {
  open: StillOpen;
  /** What counts as said: here, or when the shop was closed up. */
  said: SaidByKey;
  todo: TodoLine[];
  inOrder: ClosingLine[];
  left: ClosingLine[];
  closed?: { byName: string; at: InstantMs; isOpenAgain: boolean };
};

export function closingView(here: Here): ClosingView {
  const { facts, now, zone } = here;
  const open = stillOpen(facts, now);
  const row = facts.where("closing", "day", shopDayAt(now, zone))[0];
  const said = { ...(row && !isWorkedSince(facts, row.at, open) && saidThen(row, open)), ...here.said };
  const lines = todoLines(here, open);
  const isSettled = (line: TodoLine) => said[line.key] !== undefined;
  const todo = lines.filter((line) => !isSettled(line));
  const settled = lines.filter(isSettled);
  const left = settled.flatMap((line) => {
    const one = said[line.key];
    return one?.answer === "left" ? [{ ...line, detail: one.why }] : [];
  });
  const clear = settled.filter((line) => said[line.key]?.answer === "clear");
  return {
    open,
    said,
    todo,
    left,
    inOrder: [...clear.map((line) => ({ ...line, ...seenWords(line) })), ...quietLines(here, open)],
    ...(row && {
      closed: {
        byName: facts.get("member", row.closedBy)?.name ?? "Somebody",
        at: row.at,
        isOpenAgain: todo.some(({ point }) => point !== "unsent"),
      },
    }),
  };
}

/** Whoever lays a coat, glues or starts a timer after closing up has to go round again: what was seen is no longer so. */
const isWorkedSince = (facts: Facts, closedAt: InstantMs, open: StillOpen): boolean =>
  open.rags.length > 0 ||
  open.timers.some((entry) => entry.startedAt > closedAt) ||
  facts.all("coat").some((coat) => (coat.applied?.endedAt ?? 0) > closedAt) ||
  facts.all("joint").some((joint) => joint.gluedAt > closedAt);

const saidThen = (row: Row<"closing">, open: StillOpen): SaidByKey => {
  const answerTo = (point: ClosingPoint) => row.answers.find((answer) => answer.point === point);
  const as = (point: ClosingPoint) => {
    const found = answerTo(point);
    if (!found) return undefined;
    return found.answer === "clear" ? { answer: "clear" as const } : { answer: "left" as const, why: found.why ?? "" };
  };
  // a point that was clear then and is open now is open again
  const leftThen = (["wipes", "cold-glue", "timers"] as const).filter((point) => as(point)?.answer === "left");
  return {
    ...Object.fromEntries(flameKeys(open).map((key) => [key, as("flames")])),
    heater: as("heater"),
    ...Object.fromEntries(leftThen.map((point) => [point, as(point)])),
    // the closing itself is among them
    unsent: { answer: "left", why: "They go by themselves once there is signal" },
  };
};
