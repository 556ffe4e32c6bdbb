import { jointAnswer, jointVerdict } from "../../cure/joint";
import type { Picture } from "../../cure/picture";
import { type Context, changed, made } from "../define";
import type { Change, ShopEvent } from "../event";
import type { HandTest, Joint, Task } from "../tables";

/** The gluing that is open again has this place among the ids that follow from the test's intent. */
const gluedAgain = 5;

/**
 * What follows when a hand has judged a joint: nobody need look any more, and a joint that failed is work again, with why.
 */
export function afterJointTest(
  c: Pick<Context<unknown>, "facts" | "by" | "when" | "newId">,
  picture: Picture,
  test: HandTest,
): ShopEvent[] {
  const { subject } = test;
  const joint = subject.of === "joint" ? picture.joints.find(({ id }) => id === subject.jointId) : undefined;
  const verdict = joint && jointVerdict(joint, test);
  if (!verdict) return [];
  const tasks = c.facts.where("task", "pieceId", joint.pieceId).filter((task) => task.jointId === joint.id);
  const about = { pieceId: joint.pieceId, memberId: c.by.id };
  const looked = tasks.filter(({ sort, state }) => sort === "inspect" && (state === "open" || state === "held"));
  const events = looked.map((task) => ({ kind: "task-finished", ...about, changes: finished(c, task, test) }));
  if (verdict.result === "sound") return events;
  const isCold = jointAnswer(picture, joint, test.at).firstDay.tooColdSinceAt !== undefined;
  const cause = isCold ? "cold glue" : `failed the ${test.kind.replaceAll("-", " ")}`;
  return [...events, { kind: "task-reopened", ...about, changes: [workAgain(c, joint, tasks, cause)] }];
}

const finished = (c: Pick<Context<unknown>, "facts" | "by" | "when">, task: Task, test: HandTest): Change[] => [
  changed("task", task.id, { state: "finished", finished: { at: test.at, by: c.by.id } }),
  ...c.facts
    .where("claim", "pieceId", task.pieceId ?? "")
    .filter((claim) => claim.taskId === task.id && claim.endedAt === undefined)
    .map((claim) => changed("claim", claim.id, { endedAt: c.when.recordedAt, ending: "finished" })),
];

/** The task that glued it is open again; a joint that nobody had as a task gets one. */
const workAgain = (
  c: Pick<Context<unknown>, "newId">,
  joint: Joint,
  tasks: readonly Task[],
  reworkCause: string,
): Change => {
  const gluing = tasks.find(({ sort, methods }) => sort !== "inspect" && methods.includes("glue"));
  if (gluing?.state === "open" || gluing?.state === "held") return changed("task", gluing.id, { reworkCause });
  if (gluing) return changed("task", gluing.id, { state: "open", finished: null, setAsideWhy: null, reworkCause });
  return made("task", {
    id: c.newId(gluedAgain),
    pieceId: joint.pieceId,
    title: `Glue again: ${joint.name}`,
    sort: "repair",
    methods: ["glue"],
    surfaceIds: [],
    jointId: joint.id,
    needsSkills: ["glue"],
    needsMembers: 1,
    after: [],
    state: "open",
    reworkCause,
  });
};
