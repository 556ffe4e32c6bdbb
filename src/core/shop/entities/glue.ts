import * as z from "zod/mini";
import { text } from "../../text";
import { instant } from "../../units";
import { jointId, memberId, pieceId, roomId, sheetId, testId } from "./ids";
import { gateEvidence } from "./pieces";

/** One gluing. A joint that failed and is glued again is a new row. */
export const jointRow = z.object({
  id: jointId,
  pieceId,
  name: text(40),
  sheetId,
  roomId,
  gluedAt: instant,
  by: memberId,
  squeeze: z.enum(["clamped", "taped", "none"]),
  /** Carries weight or spring: it stays clamped for longer where the shop says so. */
  isStressed: z.boolean(),
  releasedAt: z.optional(instant),
  verdict: z.optional(z.object({ result: z.enum(["sound", "failed"]), at: instant, by: memberId, testId })),
  evidence: z.optional(gateEvidence),
});
