"use client";
import { createContext } from "react";

/** Which strip of the list is open; shared by the list and its strips, so that opening one closes the other. */
export const OpenStripContext = createContext<{ openTag: string | null; setOpenTag: (tag: string | null) => void }>({
  openTag: null,
  setOpenTag: () => {},
});
