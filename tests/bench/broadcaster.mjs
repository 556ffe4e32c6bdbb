// The least that could tell the others: whatever a socket says goes to every other one of its room, unread and unstored.
import { WebSocketServer } from "ws";

const server = new WebSocketServer({ port: 0, host: "127.0.0.1", perMessageDeflate: false });
/** @type {Map<string | undefined, Set<import("ws").WebSocket>>} */
const rooms = new Map();
server.on("connection", (from, { url }) => {
  const room = rooms.get(url) ?? new Set();
  rooms.set(url, room.add(from));
  from.on("message", (data) => {
    for (const to of room) if (to !== from) to.send(data);
  });
  from.on("close", () => {
    room.delete(from);
    if (room.size === 0) rooms.delete(url);
  });
});
server.on("listening", () => process.send?.(/** @type {import("node:net").AddressInfo} */ (server.address()).port));
process.on("disconnect", () => process.exit());
