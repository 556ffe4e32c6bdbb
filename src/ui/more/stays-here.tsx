"use client";
import { useEffect, useState } from "react";
import { askToKeepStorage } from "~/device/session";

/** Whether the browser promises to leave alone what is kept here. */
export function StaysHere() {
  const [isPromised, setPromised] = useState<boolean>();
  useEffect(() => {
    void askToKeepStorage()
      .catch(() => false)
      .then(setPromised);
  }, []);
  if (isPromised === undefined) return null;
  return (
    <p className="why">
      {isPromised
        ? "This browser has promised not to clear what is kept here by itself."
        : "This browser may clear what is kept here when the device runs short of room. Put the shop on the home screen, or save the file before a long time without signal."}
    </p>
  );
}
