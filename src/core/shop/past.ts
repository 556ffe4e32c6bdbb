/** What was ruled earlier, as far as somebody wants to take it back. */
import type { InstantMs } from "../units";
import type { ShopEvent } from "./event";

export type PastEntry = {
  intentId: string;
  kind: string;
  memberId?: string;
  madeAt: InstantMs;
  /** The ledger number; absent where everything was so already and nothing happened. */
  seq?: number;
  events: readonly ShopEvent[];
};

/** An accepted intent and everything that was ruled after it, the earliest first. */
export type Past = { entry: PastEntry & { seq: number }; later: readonly PastEntry[] };

/** One intent and what came after it; undefined where nothing happened under that id. */
export function pastAmong(entries: readonly PastEntry[], intentId: string): Past | undefined {
  const entry = entries.find((found) => found.intentId === intentId);
  const seq = entry?.seq;
  if (!entry || seq === undefined) return undefined;
  const later = entries.filter((other) => other !== entry && (other.seq ?? Number.POSITIVE_INFINITY) > seq);
  return { entry: { ...entry, seq }, later: later.sort((a, b) => (a.seq ?? 0) - (b.seq ?? 0)) };
}

/** Has somebody taken it back already? */
export const isTakenBack = ({ entry, later }: Past): boolean =>
  later.some(({ events }) => events.some(({ takesBack }) => takesBack?.intentId === entry.intentId));
