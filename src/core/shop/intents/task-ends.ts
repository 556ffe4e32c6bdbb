import { type Context, changed } from "../define";
import type { Change } from "../event";
import type { Claim, Task } from "../tables";

/** When a task is over, so is the hold on it. */
export const claimEnds = (
  c: Pick<Context<unknown>, "facts" | "when">,
  task: Task,
  ending: NonNullable<Claim["ending"]>,
): Change[] =>
  c.facts
    .where("claim", "taskId", task.id)
    .filter((claim) => claim.endedAt === undefined)
    .map((claim) => changed("claim", claim.id, { endedAt: c.when.recordedAt, ending }));
