/** Who is signed in on this device, kept so that the screens open without signal. It proves nothing to the server. */
import type { Role } from "~/core/shop/entities/people";

export type SessionHere = {
  shopId: string;
  shopName: string;
  deviceId: string;
  isSharedTablet: boolean;
  /** On the shared tablet: who picked themselves, if anybody has. */
  memberId?: string;
  role?: Role;
};

const key = "tackfree.session";
const deviceKey = "tackfree.device";

export function sessionHere(): SessionHere | undefined {
  const kept = localStorage.getItem(key);
  return kept ? (JSON.parse(kept) as SessionHere) : undefined;
}

export const keepSession = (session: SessionHere): void => localStorage.setItem(key, JSON.stringify(session));

export const forgetSession = (): void => localStorage.removeItem(key);

/** This device's own id: made once, the same for everybody who signs in on it. */
export function deviceIdHere(newId: () => string): string {
  const known = localStorage.getItem(deviceKey);
  if (known) return known;
  const made = newId();
  localStorage.setItem(deviceKey, made);
  return made;
}
