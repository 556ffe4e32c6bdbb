import * as z from "zod/mini";
import { text } from "../../text";
import { instant } from "../../units";
import { idOf, memberId, pairId, pieceId, surfaceId } from "./ids";

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
] as const;
export type TestKind = (typeof testKinds)[number];

export const testRow = z.object({
  id: idOf<"test">(),
  pieceId,
  subject: z.discriminatedUnion("of", [
    z.object({ of: z.literal("surface"), surfaceId }),
    z.object({ of: z.literal("pair"), pairId }),
    z.object({ of: z.literal("paint-layer"), layer: text(40) }),
  ]),
  kind: z.enum(testKinds),
  at: instant,
  by: memberId,
  result: z.enum(["pass", "fail", "unclear", "pending"]),
  note: z.optional(text(300)),
  takenBackAt: z.optional(instant),
});
