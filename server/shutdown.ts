import { once } from "node:events";
import { closeCode } from "~/core/wire";
import type { WebServer } from "./http";
import type { Hub } from "./hub";
import type { UpgradeGate } from "./upgrade";

/** Whoever started the server kills it after 20 s; an orderly end that takes longer is none. */
const patienceMs = 18_000;
/** Devices come back in the order in which they are hung up on: spread over 3.75 s, not all in one moment. */
const hangingUp = { parts: 16, betweenMs: 250 };
/** For the last answers to reach the devices. */
const lastAnswersMs = 500;

export type Running = {
  servers: readonly WebServer[];
  gate: UpgradeGate;
  hub: Hub;
  /** From now on nobody is served who was not before, and whoever asks is told that this server is not ready. */
  stopServing: () => void;
  stopBeating: () => void;
  closePages: () => Promise<void>;
  closeDatabase: () => Promise<void>;
};

/**
 * Ends in order: nobody new comes in, what has been begun is stored and answered, sockets are told that they will find the
 * server again. A crash loses no more than this politeness: nothing is saved only here.
 *
 * @returns whether everything ended in time
 */
export async function shutDown(running: Running): Promise<boolean> {
  const timer = { late: undefined as NodeJS.Timeout | undefined };
  const late = new Promise<boolean>((resolve) => {
    timer.late = setTimeout(() => resolve(false), patienceMs);
  });
  return Promise.race([endInOrder(running).then(() => true), late]).finally(() => clearTimeout(timer.late));
}

async function endInOrder(running: Running): Promise<void> {
  const { servers, gate, hub, stopServing, stopBeating, closePages, closeDatabase } = running;
  stopServing();
  gate.shut();
  await hub.drain();
  await hub.sockets.closeInTurn(closeCode.restarting, hangingUp);
  stopBeating();
  const closed = servers.map((server) => once(server, "close"));
  for (const server of servers) {
    server.close();
    server.closeIdleConnections();
  }
  await Promise.race([Promise.all(closed), new Promise((resolve) => setTimeout(resolve, lastAnswersMs))]);
  for (const server of servers) server.closeAllConnections();
  await hub.close();
  await closePages();
  await closeDatabase();
}
