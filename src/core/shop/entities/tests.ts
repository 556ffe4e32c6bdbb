import * as z from "zod/mini";
import { text } from "../../text";
import { instant } from "../../units";
import { canId, idOf, jointId, memberId, pairId, pieceId, productId, surfaceId, testId } from "./ids";

/** What a hand can ask of a film, and how hard: `cure/observation.ts` says what each speaks for. */
export const testKinds = [
  "fingertip-on-glass",
  "paper-drop",
  "recoat-patch",
  "thumb-twist",
  "fingernail",
  "paper-press",
  "bleed-patch",
  "lead-swab",
  "lead-laboratory",
  "moisture-meter",
  "weight",
  "pull-or-tap",
  "chalk-look",
  "drop-on-glass",
] as const;
export type TestKind = (typeof testKinds)[number];

export const testRow = z.object({
  id: testId,
  /** Absent where a can was tested. */
  pieceId: z.optional(pieceId),
  subject: z.discriminatedUnion("of", [
    z.object({ of: z.literal("surface"), surfaceId }),
    z.object({ of: z.literal("pair"), pairId }),
    z.object({ of: z.literal("paint-layer"), layer: text(40) }),
    z.object({ of: z.literal("joint"), jointId }),
    z.object({ of: z.literal("can"), canId }),
    /** A patch of a product, over a barrier or not, watched for what bleeds through. */
    z.object({ of: z.literal("patch"), surfaceId, productId, barrierProductId: z.optional(productId) }),
    /** Bare wood or clay that was wet. */
    z.object({ of: z.literal("washed"), surfaceId }),
  ]),
  kind: z.enum(testKinds),
  at: instant,
  by: memberId,
  result: z.enum(["pass", "fail", "unclear", "pending"]),
  measured: z.optional(
    z.object({ value: z.number().check(z.gte(0), z.lte(1_000_000)), unit: z.enum(["percent", "gram"]) }),
  ),
  note: z.optional(text(300)),
  takenBackAt: z.optional(instant),
  /** Delivered after the end of its maker's membership: the owner has not said yet whether it is so. */
  needsWord: z.optional(z.literal("delivered-after-the-end")),
});

/** A partner says that a helper's passed test counts. */
export const confirmationRow = z.object({ id: idOf<"confirmation">(), pieceId, testId, by: memberId, at: instant });

export const gateActions = [
  "touch",
  "sand",
  "recoat",
  "move",
  "press-together",
  "stack",
  "wrap",
  "hand-over",
  "use",
] as const;

/** Somebody with the power to say so opens a gate for a while, on their own name. It never beats a failed test. */
export const wordRow = z.object({
  id: idOf<"word">(),
  pieceId,
  action: z.enum(gateActions),
  /** The surface or pair of which it speaks; absent: the whole piece. */
  subjectId: z.optional(z.union([surfaceId, pairId])),
  by: memberId,
  at: instant,
  untilAt: instant,
  why: text(300),
  withdrawnAt: z.optional(instant),
});
