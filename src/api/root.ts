import { createCallerFactory, router } from "./init";
import { accountRouter } from "./routers/account";
import { actsRouter } from "./routers/acts";
import { doorRouter } from "./routers/door";
import { hoursRouter } from "./routers/hours";
import { lastDeliveryRouter } from "./routers/last-delivery";
import { noticesRouter } from "./routers/notices";
import { peopleRouter } from "./routers/people";
import { pieceRouter } from "./routers/piece";

export const appRouter = router({
  door: doorRouter,
  account: accountRouter,
  acts: actsRouter,
  hours: hoursRouter,
  lastDelivery: lastDeliveryRouter,
  notices: noticesRouter,
  people: peopleRouter,
  piece: pieceRouter,
});

export type AppRouter = typeof appRouter;

/** For tests: calls the procedures without a wire. */
export const createCaller = createCallerFactory(appRouter);
