import * as z from "zod/mini";
import { instant } from "../../units";
import { idOf, memberId, pieceId, taskId } from "./ids";

export const noticeRow = z.object({
  id: idOf<"notice">(),
  memberId,
  about: z.enum([
    "claim-lost",
    "claim-contested",
    "claim-ended",
    "claim-handed-over",
    "claim-lapsed",
    "number-changed",
    "entry-corrected",
    "stage-moved-meanwhile",
    "test-after-passing",
    "treated-as-lead",
    "task-finished-by-other",
  ]),
  at: instant,
  pieceId: z.optional(pieceId),
  taskId: z.optional(taskId),
  byMemberId: z.optional(memberId),
  /** Whatever else the sentence needs: minutes kept, the new number, the stage. */
  detail: z.optional(z.record(z.string(), z.union([z.string(), z.number()]))),
  seenAt: z.optional(instant),
});
