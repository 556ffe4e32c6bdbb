import { TRPCError } from "@trpc/server";
import * as z from "zod/mini";
import { pieceId } from "~/core/shop/entities/ids";
import { members } from "~/core/shop/roles";
import { historyOfPiece } from "~/data/history";
import { takingBackOf } from "~/data/own-acts";
import { hoursOfPiece } from "~/data/piece-hours";
import { memberProcedure, roleProcedure, router } from "../init";

const pageLength = 50;

export const pieceRouter = router({
  /** What the ledger says happened to a piece, the latest first. */
  history: roleProcedure(members)
    .input(z.object({ pieceId, beforeSeq: z.optional(z.number()) }))
    .query(async ({ ctx, input }) => {
      const { shopId, memberId } = ctx.session;
      const entries = await historyOfPiece({ shopId, ...input, limit: pageLength });
      const takingBack = await takingBackOf(entries, { shopId, memberId, now: ctx.now });
      // hours by person are in the week, for those who may see them
      return entries.map(({ events, ...entry }) => {
        const tookBack = events.find((event) => event.takesBack)?.takesBack;
        const kinds = events.map((event) => event.kind);
        return { ...entry, kinds, takingBack: takingBack.get(entry.intentId), ...(tookBack ? { tookBack } : {}) };
      });
    }),

  /** Seconds of work since it came, without names. */
  hours: memberProcedure.input(z.object({ pieceId })).query(async ({ ctx, input }) => {
    if (ctx.session.role === "outlet")
      throw new TRPCError({ code: "FORBIDDEN", message: "Your role does not open this." });
    return hoursOfPiece(ctx.session.shopId, input.pieceId, ctx.now);
  }),
});
