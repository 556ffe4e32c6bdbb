/**
 * The frames of the y-websocket protocol, as this server reads and writes them. One binary WebSocket message holds one
 * frame; integers are varUints of lib0, bytes are their varUint length and then themselves.
 *
 *     0 0 <state vector>   sync step 1: "this is what I have"
 *     0 1 <update>         sync step 2: the answer, complete; an empty update is the two bytes 00 00
 *     0 2 <update>         an increment
 *     1   <presence>       count, then for each: client id, clock, JSON text (`null` = gone)
 *     3                    "tell me everybody's presence"
 *
 * The bytes inside a frame are not looked at here: a frame that reads well may still hold anything.
 */
import * as decoding from "lib0/decoding";
import * as encoding from "lib0/encoding";
import { message, syncMessage } from "~/core/wire";
import { limits } from "~/core/wire-limits";

export type Frame =
  | { kind: "step1"; stateVector: Uint8Array }
  | { kind: "step2" | "update"; update: Uint8Array }
  | { kind: "presence"; presence: Uint8Array }
  | { kind: "query-presence" };

/** The frame that a message holds, or nothing where it is not exactly one frame of a kind known here. */
export function readFrame(bytes: Uint8Array): Frame | undefined {
  return readWhole(bytes, (decoder) => {
    switch (decoding.readVarUint(decoder)) {
      case message.sync:
        return readSync(decoder);
      case message.awareness:
        return { kind: "presence", presence: decoding.readVarUint8Array(decoder) };
      case message.queryAwareness:
        return { kind: "query-presence" };
      default:
        return undefined;
    }
  });
}

function readSync(decoder: decoding.Decoder): Frame | undefined {
  switch (decoding.readVarUint(decoder)) {
    case syncMessage.step1:
      return { kind: "step1", stateVector: decoding.readVarUint8Array(decoder) };
    case syncMessage.step2:
      return { kind: "step2", update: decoding.readVarUint8Array(decoder) };
    case syncMessage.update:
      return { kind: "update", update: decoding.readVarUint8Array(decoder) };
    default:
      return undefined;
  }
}

/** What is said of a client id: null where it is gone, undefined where it is more than anybody says of themselves. */
export type PresenceEntry = { clientId: number; clock: number; state: unknown };

/** The entries of a presence frame, or nothing where its bytes are broken or too many. */
export function readPresence(bytes: Uint8Array): PresenceEntry[] | undefined {
  if (bytes.length > limits.presenceFrameBytes) return undefined;
  return readWhole(bytes, (decoder) => {
    const count = decoding.readVarUint(decoder);
    if (count > limits.presences) return undefined;
    return Array.from({ length: count }, () => ({
      clientId: decoding.readVarUint(decoder),
      clock: decoding.readVarUint(decoder),
      state: stateIn(decoding.readVarUint8Array(decoder)),
    }));
  });
}

/** A length and then UTF-8 is how lib0 writes a text, so it can be measured first. */
const stateIn = (json: Uint8Array): unknown =>
  json.length > limits.presenceBytes ? undefined : (JSON.parse(Buffer.from(json).toString()) as unknown);

/** lib0 throws on broken bytes: then, and where something is left over, there is nothing to read. */
function readWhole<Value>(
  bytes: Uint8Array,
  read: (decoder: decoding.Decoder) => Value | undefined,
): Value | undefined {
  try {
    const decoder = decoding.createDecoder(bytes);
    const value = read(decoder);
    return decoding.hasContent(decoder) ? undefined : value;
  } catch {
    return undefined;
  }
}

/** The update that holds nothing: no structs, nothing deleted. */
export const isEmptyUpdate = (update: Uint8Array): boolean =>
  update.length === 0 || (update.length === 2 && update[0] === 0 && update[1] === 0);

const frameOf = (numbers: readonly number[], bytes: Uint8Array): Buffer => {
  const encoder = encoding.createEncoder();
  for (const number of numbers) encoding.writeVarUint(encoder, number);
  encoding.writeVarUint8Array(encoder, bytes);
  return Buffer.from(encoding.toUint8Array(encoder));
};

export const step1Frame = (stateVector: Uint8Array): Buffer => frameOf([message.sync, syncMessage.step1], stateVector);
export const step2Frame = (update: Uint8Array): Buffer => frameOf([message.sync, syncMessage.step2], update);
export const updateFrame = (update: Uint8Array): Buffer => frameOf([message.sync, syncMessage.update], update);

export function presenceFrame(entries: readonly PresenceEntry[]): Buffer {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, entries.length);
  for (const { clientId, clock, state } of entries) {
    encoding.writeVarUint(encoder, clientId);
    encoding.writeVarUint(encoder, clock);
    encoding.writeVarString(encoder, JSON.stringify(state));
  }
  return frameOf([message.awareness], encoding.toUint8Array(encoder));
}

/** Says nothing, and keeps the watchdog of the browser's client from taking a quiet shop for a dead line. */
export const quietFrame = presenceFrame([]);
