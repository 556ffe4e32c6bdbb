import { unseenNotices } from "~/data/notices";
import { memberProcedure, router } from "../init";

export const noticesRouter = router({
  /** What others' rulings mean for this member, not yet seen. */
  mine: memberProcedure.query(({ ctx }) => unseenNotices(ctx.session.shopId, ctx.session.memberId)),
});
