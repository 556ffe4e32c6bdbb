import { createContext, useContext } from "react";
import { currentRole } from "~/core/shop/roles";
import { useFloor } from "~/device/react";
import type { SessionHere } from "./session-here";

type SessionShown = { session: SessionHere; pick: (memberId: string | undefined) => void };

export const SessionContext = createContext<SessionShown | undefined>(undefined);

export function useSession(): SessionShown {
  const shown = useContext(SessionContext);
  if (!shown) throw new Error("useSession outside of the shop's shell");
  return shown;
}

/** Who is at this device, and in which role: by the floor, so that a changed role shows at once. */
export function useMe() {
  const { session } = useSession();
  return useFloor((facts) => {
    const member = session.memberId ? facts.get("member", session.memberId) : undefined;
    const role = member && currentRole(member);
    return { memberId: session.memberId, name: member?.name, role, isOnTablet: session.isSharedTablet };
  });
}
