import { createHash } from "node:crypto";
import { once } from "node:events";
import net from "node:net";
import { newId } from "../../support/database";

/** A line without a WebSocket library, for bytes that none would send. Source of the form of frames: RFC 6455, 5.2. */
export async function connected(host: string): Promise<net.Socket> {
  const [address, port] = host.split(":");
  const line = net.connect(Number(port), address);
  line.on("error", () => undefined);
  await once(line, "connect");
  return line;
}

export const handshake = (host: string, path: string, cookie: string): string =>
  `GET /sync/${path} HTTP/1.1\r\nHost: ${host}\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n` +
  `Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: ${createHash("md5").update(newId()).digest("base64")}\r\n` +
  `Cookie: ${cookie}\r\n\r\n`;

/** The first line of the answer to a handshake. */
export async function answerTo(line: net.Socket, request: string): Promise<string> {
  line.write(request);
  const [answer] = (await once(line, "data")) as [Buffer];
  return answer.toString().split("\r\n")[0] ?? "";
}

/** A masked frame whose mask is nothing: its first byte, its length as the protocol writes it, and what it holds. */
export const rawFrame = (first: number, length: number[], held: number[] = []): Buffer =>
  Buffer.from([first, ...length, 0, 0, 0, 0, ...held]);

/** Writes as fast as the other side takes it, as long as that is there. */
export async function writeOver(line: net.Socket, bytes: Buffer, times: number): Promise<void> {
  const closed = once(line, "close");
  for (let count = 0; count < times && !line.destroyed; count += 1) {
    if (!line.write(bytes)) await Promise.race([once(line, "drain"), closed]);
  }
}
