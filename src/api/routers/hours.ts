import * as z from "zod/mini";
import { weekContaining, weekFrom } from "~/core/calendar";
import { weekReport } from "~/core/labour/week";
import { members, seesOthersHours } from "~/core/shop/roles";
import { shopDay } from "~/core/units";
import { entriesBetween } from "~/data/entries";
import { shopById } from "~/data/members";
import { weekFacts } from "~/data/week-facts";
import { roleProcedure, router } from "../init";

export const hoursRouter = router({
  /**
   * The labour of a week: seconds per piece, person and stage with the entries behind them. A member sees all of it if
   * their role may, else their own.
   */
  week: roleProcedure(members)
    .input(z.object({ startsOn: z.optional(shopDay) }))
    .query(async ({ ctx, input }) => {
      const { shopId, memberId, role } = ctx.session;
      const shop = await shopById(shopId);
      if (!shop) throw new Error(`session of a shop that is not there: ${shopId}`);
      const week = input.startsOn
        ? weekFrom(input.startsOn, shop.zone)
        : weekContaining(ctx.now, shop.zone, shop.weekStartsOn);
      const seesAll = seesOthersHours(role, shop.partnersSeeHours);
      const wanted = { shopId, memberId: seesAll ? undefined : memberId, fromAt: week.fromAt, toAt: week.toAt };
      const entries = await entriesBetween(wanted);
      const facts = await weekFacts(shopId, entries);
      return { week, seesAll, entries, pieces: facts.pieces, report: weekReport({ week, entries, ...facts }, ctx.now) };
    }),
});
