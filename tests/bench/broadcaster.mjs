// The least that could tell the others: whatever a socket says goes to every other one, unread and unstored.
import { WebSocketServer } from "ws";

const server = new WebSocketServer({ port: 0, host: "127.0.0.1", perMessageDeflate: false });
server.on("connection", (from) => {
  from.on("message", (data) => {
    for (const to of server.clients) if (to !== from) to.send(data);
  });
});
server.on("listening", () => process.send?.(/** @type {import("node:net").AddressInfo} */ (server.address()).port));
process.on("disconnect", () => process.exit());
