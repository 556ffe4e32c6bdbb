"use client";
/**
 * What was written down on this device, so that a slip can be taken back: the floor carries the air without the ids of
 * its readings, and without those nothing can be named.
 */
import { useSyncExternalStore } from "react";
import type { InstantMs } from "~/core/units";

export type Written = {
  kind: "reading" | "import";
  /** Of the reading; of an import, the intent's. */
  id: string;
  roomId: string;
  words: string;
  at: InstantMs;
};

const key = "tackfree.readings-written";
const changedEvent = "tackfree-readings-written";
const mostKept = 20;

let known: { text: string | null; rows: readonly Written[] } = { text: null, rows: [] };

function writtenHere(): readonly Written[] {
  const text = localStorage.getItem(key);
  if (text !== known.text) known = { text, rows: text === null ? [] : (JSON.parse(text) as Written[]) };
  return known.rows;
}

function keep(rows: readonly Written[]): void {
  localStorage.setItem(key, JSON.stringify(rows));
  dispatchEvent(new Event(changedEvent));
}

/** The newest first. */
export const keepWritten = (row: Written): void => keep([row, ...writtenHere()].slice(0, mostKept));

export const forgetWritten = (id: string): void => keep(writtenHere().filter((row) => row.id !== id));

function subscribe(changed: () => void) {
  addEventListener(changedEvent, changed);
  addEventListener("storage", changed);
  return () => {
    removeEventListener(changedEvent, changed);
    removeEventListener("storage", changed);
  };
}

const nothing: readonly Written[] = [];

export const useWrittenHere = (): readonly Written[] => useSyncExternalStore(subscribe, writtenHere, () => nothing);
