import { members } from "~/core/shop/roles";
import { ownActs } from "~/data/own-acts";
import { roleProcedure, router } from "../init";

export const actsRouter = router({
  /** What the member did in the last day and may be taken back, the latest first, or why it cannot. */
  own: roleProcedure(members).query(({ ctx }) => {
    const { shopId, memberId } = ctx.session;
    return ownActs({ shopId, memberId, now: ctx.now });
  }),
});
