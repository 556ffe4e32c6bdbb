import type { IncomingMessage } from "node:http";
import type { InstantMs } from "~/core/units";
import type { Transaction } from "~/data/db";
import type { Batch, BatchOutcome, EntranceAsked } from "~/data/ledger";
import type { Answer } from "~/data/rulings";
import type { LiveSession } from "~/data/sessions";

/** What the process that holds the rooms offers to the API: the one door, and telling open sockets of changed rights. */
export type Services = {
  now: () => InstantMs;
  sessionOf: (request: IncomingMessage) => Promise<LiveSession | undefined>;
  commit: (batch: Batch) => Promise<BatchOutcome>;
  enter: (asked: EntranceAsked, alongside?: (tx: Transaction, memberId: string) => Promise<void>) => Promise<Answer>;
  floorEpoch: (shopId: string) => Promise<number | undefined>;
  sessionsChanged: (whose: { sessionId: string } | { memberId: string }) => Promise<void>;
  report: (error: unknown, about?: { intentId?: string }) => void;
};
