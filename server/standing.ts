import type { InstantMs } from "~/core/units";
import { type LiveSession, sessionById, sessionStanding } from "~/data/sessions";
import type { LookUp } from "./sockets";

/** The database takes nothing else for the id of a session. */
const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** The session of an id that came with a request, whatever that may be. */
export const liveSession = async (sessionId: string, now: InstantMs): Promise<LiveSession | undefined> =>
  uuid.test(sessionId) ? sessionById(sessionId, now) : undefined;

/** How a session stands: the same look-up that the API uses. */
export const standingOf: LookUp = async (sessionId, now) => {
  const session = uuid.test(sessionId) ? await sessionStanding(sessionId, now) : undefined;
  return session && { ...session, endsAt: session.expiresAt };
};
