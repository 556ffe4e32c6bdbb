"use client";
import { useSyncExternalStore } from "react";

/** After the #, a secret never leaves the browser with the address. Nothing until the page runs in one. */
const secretHere = (): string => decodeURIComponent(location.hash.slice(1));

function subscribe(changed: () => void) {
  addEventListener("hashchange", changed);
  return () => removeEventListener("hashchange", changed);
}

export const useSecretInAddress = (): string | undefined =>
  useSyncExternalStore(subscribe, secretHere, () => undefined);

/** Could this be one of our secrets at all? What is not is not asked about. */
export const isSecretLike = (secret: string): boolean => secret.length >= 10 && secret.length <= 80;
