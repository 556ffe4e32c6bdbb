import * as z from "zod/mini";
import { accepted, alreadySo, defineIntent, refused } from "../define";
import { jointId } from "../entities/ids";
import type { Need } from "../facts";
import { floorHands } from "../roles";
import { jointInspection } from "./joints";

/** Ids of the tasks follow from the intent's, so that one tap makes one task each, however often it is delivered. */
const firstTask = 10;

/** Joints that the cold may have spoilt: one tap, and each is somebody's task to pull or to look at. */
export const inspectJoints = defineIntent({
  kind: "inspect-joints",
  sort: "plan",
  who: floorHands,
  body: z.object({ jointIds: z.array(jointId).check(z.minLength(1), z.maxLength(40)) }),
  reads: (body, facts) =>
    body.jointIds.flatMap((id): Need[] => {
      const piece = facts.get("joint", id)?.pieceId;
      return [{ table: "joint", id }, ...(piece ? [{ table: "task" as const, field: "pieceId", value: piece }] : [])];
    }),
  judge: (c) => {
    const joints = [...new Set(c.body.jointIds)].map((id) => c.facts.get("joint", id));
    if (joints.some((joint) => joint === undefined)) return refused({ kind: "unknown-thing", field: "jointIds" });
    const unasked = joints
      .filter((joint) => joint !== undefined)
      .filter(
        (joint) =>
          !c.facts
            .where("task", "pieceId", joint.pieceId)
            .some(
              ({ sort, state, jointId: of }) =>
                of === joint.id && sort === "inspect" && (state === "open" || state === "held"),
            ),
      );
    if (unasked.length === 0) return alreadySo();
    return accepted(
      ...unasked.map((joint, index) => ({
        kind: "inspection-asked",
        pieceId: joint.pieceId,
        memberId: c.by.id,
        changes: [jointInspection(c.newId(firstTask + index), joint, `Pull it, look for a white line: ${joint.name}`)],
      })),
    );
  },
});
