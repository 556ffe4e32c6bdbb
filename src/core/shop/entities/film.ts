import * as z from "zod/mini";
import { text } from "../../text";
import { instant, quantity } from "../../units";
import { canId, coatId, memberId, mixId, pieceId, roomId, sheetId, surfaceId } from "./ids";
import { gateEvidence } from "./pieces";

export const coatRow = z.object({
  id: coatId,
  pieceId,
  surfaceId,
  position: quantity("position"),
  sheetId,
  state: z.enum(["planned", "applied", "wiped", "flawed", "mended", "removed", "struck"]),
  /** Why a barrier lies here, so that nobody strikes it unawares. */
  barrierWhy: z.optional(text(120)),
  plannedWetFilmMicrometres: z.optional(quantity("wetFilmMicrometres")),
  applied: z.optional(
    z.object({
      startedAt: instant,
      endedAt: instant,
      by: z.array(memberId).check(z.minLength(1)),
      roomId,
      wetFilmMicrometres: z.optional(quantity("wetFilmMicrometres")),
      scuffedBefore: z.boolean(),
      mixId: z.optional(mixId),
      canIds: z.optional(z.array(canId).check(z.maxLength(12))),
      /** From a can past its life without a passed drop test: time alone never opens this film. */
      isFromDeadCan: z.optional(z.boolean()),
      evidence: z.optional(gateEvidence),
    }),
  ),
  wiped: z.optional(z.object({ at: instant, by: memberId })),
  flaw: z.optional(
    z.object({ cause: z.string(), seenAt: instant, mendedAt: z.optional(instant), mend: z.optional(text(300)) }),
  ),
  removed: z.optional(z.object({ at: instant, how: z.enum(["sanded", "stripped", "wiped-off"]), why: text(300) })),
  /** Delivered after the end of its maker's membership: the owner has not said yet whether it is so. */
  needsWord: z.optional(z.literal("delivered-after-the-end")),
});
