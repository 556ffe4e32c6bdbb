import { sessionById } from "~/data/sessions";
import type { LookUp } from "./sockets";

/** How a session stands: the same look-up that the API uses. */
export const standingOf: LookUp = async (sessionId, now) => {
  if (!uuid.test(sessionId)) return undefined;
  const session = await sessionById(sessionId, now);
  return session && { ...session, endsAt: session.expiresAt };
};

/** The database takes nothing else for the id of a session. */
const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
