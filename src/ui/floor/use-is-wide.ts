"use client";
import { useSyncExternalStore } from "react";

/** From here on the screen is a laptop's or the wall's; the same width as in the kit's styles. */
const wide = "(width >= 64rem)";

const onChange = (listener: () => void) => {
  const query = window.matchMedia(wide);
  query.addEventListener("change", listener);
  return () => query.removeEventListener("change", listener);
};

export const useIsWide = (): boolean =>
  useSyncExternalStore(
    onChange,
    () => window.matchMedia(wide).matches,
    () => false,
  );
