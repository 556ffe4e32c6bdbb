/** Words for taking something back, wherever that is offered. */
import type { Hindrance } from "~/core/shop/intents/take-back";
import { actWords } from "../more/act-words";

export const takeBackWords = {
  key: "Take back",
  /** It never left this device. */
  withdrawn: "Taken back. It had not been sent.",
  asked: "The shop is asked to take it back.",
  waits: "Asked to be taken back",
  done: "taken back",
} as const;

/** What is taken back, for somebody who hears the key instead of seeing where it stands. */
export const takeBackLabel = (kind: string): string => `${takeBackWords.key}: ${actWords[kind] ?? kind}`;

/** A line of the ledger: what was done, or what of it was taken back. */
export const pastWords = (kind: string, tookBack?: { kind: string }): string => {
  const words = actWords[kind] ?? kind.replaceAll("-", " ");
  return tookBack ? `${words}: ${(actWords[tookBack.kind] ?? tookBack.kind).toLowerCase()}` : words;
};

/** Shorter than the refusal that its maker would get: it stands beside the act. */
export const staysBecause = (refusal: Hindrance, found: string): string =>
  refusal.kind === "something-rests-on-it" ? `It stays. ${found}` : found;
