/**
 * What was done on a device and has not been sent, as a file that a person can carry: out of a browser that keeps nothing,
 * and into this or another device of the same member. Read back twice, it counts once: every intent has its id.
 */
import * as z from "zod/mini";
import { accept, type Result, refuse } from "~/core/result";
import { idOf, memberId } from "~/core/shop/entities/ids";
import { envelope, type Intent } from "~/core/shop/intent";
import type { QueueOwner } from "./intent-queue";

export type UnsentIntent = {
  intent: Intent;
  /** The clock was not measured when it was made. */
  expectedOffsetMs?: number;
};

/** The notes of a piece, in which there are words that the server has not had. */
export type UnsentNotes = {
  pieceId: string;
  epoch: number;
  /** The document as it lay on the device, in base 64. */
  update: string;
  /** The same for people to read. */
  condition: string;
  journal: string;
};

export type Unsent = { intents: UnsentIntent[]; notes: UnsentNotes[] };
/** `isFromHere`: this device wrote it, so that its notes can be put back. */
export type UnsentRead = Unsent & { isFromHere: boolean };

export type NotReadable =
  /** No file of this kind, or a broken one. */
  { kind: "not-unsent-file"; field: string } | { kind: "another-shops-file" } | { kind: "another-members-file" };

const format = "tackfree-unsent";

const unsentFile = z.object({
  format: z.literal(format),
  version: z.literal(1),
  shopId: idOf<"shop">(),
  memberId,
  intents: z.array(z.object({ intent: envelope, expectedOffsetMs: z.optional(z.number().check(z.int())) })),
  deviceId: idOf<"device">(),
  notes: z.array(
    z.object({
      pieceId: idOf<"piece">(),
      epoch: z.number().check(z.int(), z.gte(1)),
      update: z.string().check(z.regex(/^[A-Za-z0-9+/]*={0,2}$/)),
      condition: z.string(),
      journal: z.string(),
    }),
  ),
});

export function unsentFileOf(
  { shopId, memberId, deviceId }: QueueOwner,
  { intents, notes }: Unsent,
  day: string,
): File {
  const kept = intents.map(({ intent, expectedOffsetMs }) => ({ intent, expectedOffsetMs }));
  const content = { format, version: 1, shopId, memberId, deviceId, intents: kept, notes };
  const name = `tackfree-unsent-${day}.json`;
  return new File([JSON.stringify(content, null, 2)], name, { type: "application/json" });
}

/** Reads such a file, for the member who is at this device. */
export function readUnsentFile(
  text: string,
  { shopId, memberId, deviceId }: QueueOwner,
): Result<UnsentRead, NotReadable> {
  const parsed = unsentFile.safeParse(contentOf(text));
  if (!parsed.success) {
    return refuse({ kind: "not-unsent-file", field: parsed.error.issues[0]?.path.join(".") ?? "" });
  }
  const { intents, notes, ...from } = parsed.data;
  if (from.shopId !== shopId) return refuse({ kind: "another-shops-file" });
  const isTheirs = from.memberId === memberId && intents.every(({ intent }) => intent.memberId === memberId);
  return isTheirs
    ? accept({ intents, notes, isFromHere: from.deviceId === deviceId })
    : refuse({ kind: "another-members-file" });
}

function contentOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
