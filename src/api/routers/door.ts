import * as z from "zod/mini";
import { openProcedure, router, signedInProcedure } from "../init";

/** A queue travels in batches of this many; a device that sends more is not ours. */
export const longestBatch = 500;

export const doorRouter = router({
  /** The server's clock, for measuring a device's. */
  time: openProcedure.query(({ ctx }) => ctx.now),

  /** Which epoch of the shop's floor is the live one. */
  floorEpoch: signedInProcedure.query(({ ctx }) => ctx.services.floorEpoch(ctx.session.shopId)),

  /** The one door: intents in order, a ruling each. What an envelope holds is judged there, not here. */
  send: signedInProcedure
    .input(
      z.object({
        intents: z.array(z.unknown()).check(z.maxLength(longestBatch)),
        /** Hours that the device delivers behind these: for those who lose a claim on which they worked. */
        behind: z.optional(z.array(z.unknown()).check(z.maxLength(longestBatch))),
      }),
    )
    .mutation(async ({ ctx, input }) => {
      const { shopId } = ctx.session;
      const outcome = await ctx.services.commit({
        shopId,
        envelopes: input.intents,
        behind: input.behind,
        session: ctx.session,
        now: ctx.now,
      });
      for (const { error, intentId } of outcome.failed) ctx.services.report(error, { intentId });
      return { rulings: outcome.rulings, gap: outcome.gap, serverAt: ctx.now };
    }),
});
