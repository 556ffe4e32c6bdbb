import { TRPCError } from "@trpc/server";
import * as z from "zod/mini";
import { keepPass, passStanding } from "~/data/delivery-pass";
import { memberProcedure, openProcedure, router } from "../init";
import { longestBatch } from "./door";

/** As the device makes it: 160 bits in the letters of base64url. */
const secret = z.string().check(z.regex(/^[\w-]{27,80}$/));

export const lastDeliveryRouter = router({
  /** The device of a member says by which secret it will be known, should their membership end. */
  enrol: memberProcedure
    .input(z.object({ secretSha256: z.string().check(z.regex(/^[0-9a-f]{64}$/)) }))
    .mutation(({ ctx, input }) => keepPass(ctx.session, input.secretSha256, ctx.now)),

  /**
   * What a member's device kept from before the end of their membership, in order, a ruling each. Nothing else can be
   * asked with a pass, and no cookie counts here: the secret is in the request or nobody is.
   */
  send: openProcedure
    .input(z.object({ secret, intents: z.array(z.unknown()).check(z.maxLength(longestBatch)) }))
    .mutation(async ({ ctx, input }) => {
      const pass = await passStanding(input.secret, ctx.now);
      if (typeof pass === "string") throw new TRPCError({ code: "UNAUTHORIZED", message: "Sign in first." });
      const { shopId, deviceId, memberId, endedAt, untilAt, isOver } = pass;
      const envelopes = isOver ? [] : input.intents;
      const session = { memberId, deviceId, isSharedTablet: false };
      const { rulings, gap, failed } = await ctx.services.commit({ shopId, envelopes, session, now: ctx.now });
      for (const { error, intentId } of failed) ctx.services.report(error, { intentId });
      return { isOver, endedAt, untilAt, rulings, gap, serverAt: ctx.now };
    }),
});
