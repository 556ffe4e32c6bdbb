import * as z from "zod/mini";
import { shopDayAt } from "../../calendar";
import { type ClosingPoint, leftPoints, type StillOpen, stillOpen } from "../../safety/closing";
import { coldGlueNeeds } from "../../safety/cold-glue";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { idOf } from "../entities/ids";
import { closingPoints, closingRow } from "../entities/work";
import type { Refusal } from "../refusal";
import { floorHands } from "../roles";
import type { Row } from "../tables";

const closeUpBody = z.object({
  closingId: idOf<"closing">(),
  /** What somebody saw who went round: a point is clear, or left as it is and why. */
  answers: closingRow.shape.answers,
  stance: z.enum(["asking", "done"]),
});
type CloseUpBody = z.infer<typeof closeUpBody>;

/** The flames and the heater are looked at by somebody, every evening. */
const lookedAt: readonly ClosingPoint[] = ["flames", "heater"];

/**
 * The last one out goes round and says so. Open rags refuse it whatever is said, and so does a flame left in the vapour of
 * a fresh coat; wipes, glue in the cold and timers may be left with a reason. One a day; a later one replaces it.
 */
export const closeUp = defineIntent({
  kind: "close-up",
  sort: "report",
  who: floorHands,
  carriesTime: true,
  body: closeUpBody,
  reads: (_body, facts, intent) => [
    ...(["task", "coat", "sheet", "product", "room", "piece", "closing"] as const).map(
      (table) => ({ table, all: true }) as const,
    ),
    { running: true },
    ...coldGlueNeeds(facts, intent.happenedAt ?? intent.deviceAt + (intent.offsetMs ?? 0)),
  ],
  judge: (c) => {
    const at = c.when.happenedAt;
    const open = stillOpen(c.facts, at);
    const refusal = hindrance(c, open);
    if (refusal) return refused(refusal);
    const day = shopDayAt(at, c.shop.zone);
    const before = c.facts.where("closing", "day", day)[0];
    if (before && before.at >= at) return alreadySo();
    const fields = { day, closedBy: c.by.id, at, answers: answersOf(c.body, open) };
    return accepted({
      kind: "shop-closed-up",
      memberId: c.by.id,
      changes: [before ? changed("closing", before.id, fields) : made("closing", { id: c.body.closingId, ...fields })],
    });
  },
});

function hindrance(c: Context<CloseUpBody>, open: StillOpen): Refusal | undefined {
  const { answers, stance } = c.body;
  if (open.rags.length > 0) {
    const dueAt = Math.min(...open.rags.map((task) => task.dueAt ?? c.when.happenedAt));
    return { kind: "rags-open", taskIds: open.rags.map((task) => task.id), dueAt };
  }
  const answerTo = (point: ClosingPoint) => answers.find((answer) => answer.point === point);
  const burning = open.vapourRooms[0];
  if (burning && answerTo("flames")?.answer !== "clear") return { kind: "ignition-near", roomId: burning.id };
  const unseen = lookedAt.filter((point) => !answerTo(point));
  const left = [...leftPoints(open), ...answers.filter(({ answer }) => answer === "left").map(({ point }) => point)];
  const unsettled = [...new Set(left)].filter((point) => stance === "asking" || !answerTo(point)?.why);
  const points = [...unseen, ...unsettled];
  return points.length > 0 ? { kind: "left-open", points } : undefined;
}

/** What the shop knows to be open cannot be called clear; what nobody was asked about is as the shop knows it. */
function answersOf({ answers }: CloseUpBody, open: StillOpen): Row<"closing">["answers"] {
  const left = new Set(leftPoints(open));
  return closingPoints.map((point) => {
    const said = answers.find((answer) => answer.point === point);
    if (left.has(point)) return { point, answer: "left", ...(said?.why !== undefined && { why: said.why }) };
    return said && !["rags", "wipes", "cold-glue", "timers"].includes(point) ? said : { point, answer: "clear" };
  });
}
