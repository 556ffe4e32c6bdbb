/** The same payloads to as many sockets over a server that does nothing else, on the same machine in the same run. */
import { fork } from "node:child_process";
import { once } from "node:events";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import WebSocket from "ws";

const betweenMs = 50;

export async function measureBaseline(payloads: readonly Uint8Array[], deviceCount: number): Promise<number[]> {
  const child = fork(path.join(import.meta.dirname, "broadcaster.mjs"), { execArgv: [] });
  const [port] = (await once(child, "message")) as [number];
  const sockets = Array.from({ length: deviceCount }, () => new WebSocket(`ws://127.0.0.1:${port}`));
  await Promise.all(sockets.map((socket) => once(socket, "open")));
  const [sender, ...others] = sockets as [WebSocket, ...WebSocket[]];
  const timesMs: number[] = [];
  for (const payload of payloads) {
    const heard = others.map((socket) => once(socket, "message").then(() => performance.now()));
    const sentAt = performance.now();
    sender.send(payload);
    for (const at of await Promise.all(heard)) timesMs.push(at - sentAt);
    await pause(betweenMs);
  }
  for (const socket of sockets) socket.terminate();
  child.disconnect();
  return timesMs;
}
