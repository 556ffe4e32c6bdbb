import { openInvitations } from "~/data/invitations";
import { roleProcedure, router } from "../init";

export const peopleRouter = router({
  /** Invitations that could still be used; their secrets were shown once and are nowhere. */
  invitations: roleProcedure(["owner"]).query(async ({ ctx }) => {
    const open = await openInvitations(ctx.session.shopId, ctx.now);
    return open.map(({ secretSha256: _, ...invitation }) => invitation);
  }),
});
