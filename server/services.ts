import type { Services } from "~/api/services";
import type { Hub } from "./hub";
import type { SessionIdOf } from "./session-cookie";
import { liveSession } from "./standing";

/** What this process offers to the API. */
export const servicesOf = (
  hub: Hub,
  { now, sessionIdOf, report }: Pick<Services, "now" | "report"> & { sessionIdOf: SessionIdOf },
): Services => ({
  now,
  report,
  sessionOf: async (request) => {
    const sessionId = await sessionIdOf(request);
    return sessionId === undefined ? undefined : liveSession(sessionId, now());
  },
  commit: (batch) => hub.commit(batch),
  enter: (asked, alongside) => hub.enter(asked, alongside),
  floorEpoch: (shopId) => hub.floorEpoch(shopId),
  sessionsChanged: (whose) => hub.sessionsChanged(whose),
});
