import { openInvitations } from "~/data/invitations";
import { lateReports } from "~/data/late-reports";
import { roleProcedure, router } from "../init";

export const peopleRouter = router({
  /** Invitations that could still be used; their secrets were shown once and are nowhere. */
  invitations: roleProcedure(["owner"]).query(async ({ ctx }) => {
    const open = await openInvitations(ctx.session.shopId, ctx.now);
    return open.map(({ secretSha256: _, ...invitation }) => invitation);
  }),

  /** What former members' devices have delivered since, and the owner has not answered. */
  lateReports: roleProcedure(["owner"]).query(({ ctx }) => lateReports(ctx.session.shopId)),
});
