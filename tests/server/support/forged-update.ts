/** Updates of notes put together by hand, as no document would make them. Their form: server/notes-update.ts. */
import * as encoding from "lib0/encoding";

type Id = [client: number, clock: number];
type Where = { left?: Id; right?: Id; parent?: string };
export type ForgedStruct =
  | ({ text: string } & Where)
  | ({ deleted: number } & Where)
  | { gone: number }
  | { hole: number }
  /** An info byte, and whatever follows. */
  | { info: number; bytes: number[] };
export type ForgedBlock = { client: number; clock?: number; structs: ForgedStruct[] };
export type ForgedDeletion = { client: number; clock: number; length: number };

const parts = { text: 4, deleted: 1, gone: 0, hole: 10 };

export function forgedUpdate(blocks: readonly ForgedBlock[], deletions: readonly ForgedDeletion[] = []): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, blocks.length);
  for (const { client, clock = 0, structs } of blocks) {
    for (const number of [structs.length, client, clock]) encoding.writeVarUint(encoder, number);
    for (const struct of structs) writeStruct(encoder, struct);
  }
  encoding.writeVarUint(encoder, deletions.length);
  for (const { client, clock, length } of deletions) {
    for (const number of [client, 1, clock, length]) encoding.writeVarUint(encoder, number);
  }
  return encoding.toUint8Array(encoder);
}

function writeStruct(encoder: encoding.Encoder, struct: ForgedStruct): void {
  if ("info" in struct) {
    for (const byte of [struct.info, ...struct.bytes]) encoding.writeUint8(encoder, byte);
  } else if ("gone" in struct || "hole" in struct) {
    encoding.writeUint8(encoder, "gone" in struct ? parts.gone : parts.hole);
    encoding.writeVarUint(encoder, "gone" in struct ? struct.gone : struct.hole);
  } else writeItem(encoder, struct);
}

function writeItem(encoder: encoding.Encoder, item: Extract<ForgedStruct, Where>): void {
  const { left, right, parent = "journal" } = item;
  encoding.writeUint8(encoder, ("text" in item ? parts.text : parts.deleted) | (left ? 128 : 0) | (right ? 64 : 0));
  for (const number of [...(left ?? []), ...(right ?? [])]) encoding.writeVarUint(encoder, number);
  if (!left && !right) {
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarString(encoder, parent);
  }
  if ("text" in item) encoding.writeVarString(encoder, item.text);
  else encoding.writeVarUint(encoder, item.deleted);
}
