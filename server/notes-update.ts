/**
 * Reads an update of notes without applying it and without building anything: how much it brings, from whom, and whether
 * it is nothing but characters in the two texts. The form is Yjs's first encoding (version 1 of its updates), no other:
 *
 *     clients, then for each: structs, client id, first clock, then for each struct: an info byte, and
 *         nothing (0) or a gap (10)    length
 *         an item (bits 8 and 7 of the info: it has a left, a right neighbour; without either it names its parent)
 *             left: client, clock · right: client, clock · parent: 1 and its name · content: deleted (1) length, or text (4)
 *     clients, then for each: client id, deletions, then for each: clock, length
 */
import * as decoding from "lib0/decoding";
import { limits } from "~/core/wire-limits";

/** The two texts that members write together: the condition report and the journal of a piece. */
export const notesTexts: readonly string[] = ["condition", "journal"];

export type Id = { client: number; clock: number };
export type Run = Id & { length: number };
/** Characters, or what is left of them; its neighbours when it was written, where it had any; its text, where it had none. */
export type Struct = Run & { left?: Id; right?: Id; parent?: string };
export type NotesUpdate = { structs: Struct[]; deleted: Run[] };

/** Why an update is not even looked at: no plain text; too much; a hole in it. */
export type ShapeFault = "not-text" | "too-large" | "gap";

class Refused extends Error {
  constructor(readonly fault: ShapeFault) {
    super(fault);
  }
}

export function readNotesUpdate(bytes: Uint8Array): NotesUpdate | ShapeFault {
  if (bytes.length > limits.updateBytes) return "too-large";
  try {
    const decoder = decoding.createDecoder(bytes);
    const found = { structs: readStructs(decoder), deleted: readDeleted(decoder) };
    return decoding.hasContent(decoder) ? "not-text" : found;
  } catch (error) {
    return error instanceof Refused ? error.fault : "not-text"; // lib0 throws on broken bytes
  }
}

const kind = { gone: 0, deleted: 1, text: 4, hole: 10 } as const;
const kindBits = 0b0001_1111;
const hasKey = 0b0010_0000;
const hasRight = 0b0100_0000;
const hasLeft = 0b1000_0000;
/** Yjs 13 makes client ids of 32 bits. */
const highestClient = 0xffff_ffff;

function readStructs(decoder: decoding.Decoder): Struct[] {
  const structs: Struct[] = [];
  const seen = new Set<number>();
  for (let left = countUpTo(decoder, limits.updateClients); left > 0; left -= 1) {
    const count = countUpTo(decoder, limits.updateStructs - structs.length);
    const client = readClient(decoder);
    if (seen.has(client)) throw new Refused("not-text"); // Yjs would forget the first part
    seen.add(client);
    let clock = readClock(decoder);
    for (let index = 0; index < count; index += 1) {
      const struct = readStruct(decoder, { client, clock });
      structs.push(struct);
      clock += struct.length;
    }
  }
  return structs;
}

function readStruct(decoder: decoding.Decoder, id: Id): Struct {
  const info = decoding.readUint8(decoder);
  const contentKind = info & kindBits;
  if (contentKind === kind.gone) return runOf(id, decoding.readVarUint(decoder));
  if (contentKind === kind.hole) throw new Refused("gap");
  const left = info & hasLeft ? earlier(id, readId(decoder)) : undefined;
  const right = info & hasRight ? earlier(id, readId(decoder)) : undefined;
  const parent = left || right ? undefined : readText(decoder, info);
  return { ...runOf(id, readLength(decoder, contentKind)), left, right, parent };
}

function readLength(decoder: decoding.Decoder, contentKind: number): number {
  if (contentKind === kind.deleted) return decoding.readVarUint(decoder);
  if (contentKind === kind.text) return decoding.readVarString(decoder).length;
  throw new Refused("not-text");
}

/** The text that an item without neighbours stands in: by name, and not under a key as in a map. */
function readText(decoder: decoding.Decoder, info: number): string {
  const isNamed = decoding.readVarUint(decoder) === 1;
  const name = isNamed ? decoding.readVarString(decoder) : "";
  if (!notesTexts.includes(name) || info & hasKey) throw new Refused("not-text");
  return name;
}

function readDeleted(decoder: decoding.Decoder): Run[] {
  const deleted: Run[] = [];
  for (let left = countUpTo(decoder, limits.updateDeletes); left > 0; left -= 1) {
    const client = readClient(decoder);
    for (let runs = countUpTo(decoder, limits.updateDeletes - deleted.length); runs > 0; runs -= 1) {
      deleted.push(runOf({ client, clock: readClock(decoder) }, decoding.readVarUint(decoder)));
    }
  }
  return deleted;
}

function countUpTo(decoder: decoding.Decoder, most: number): number {
  const count = decoding.readVarUint(decoder);
  if (count > most) throw new Refused("too-large");
  return count;
}

function readClient(decoder: decoding.Decoder): number {
  const client = decoding.readVarUint(decoder);
  if (client > highestClient) throw new Refused("not-text");
  return client;
}

function readClock(decoder: decoding.Decoder): number {
  const clock = decoding.readVarUint(decoder);
  if (clock > limits.clock) throw new Refused("not-text");
  return clock;
}

const readId = (decoder: decoding.Decoder): Id => ({ client: readClient(decoder), clock: readClock(decoder) });

/** What takes no place would be found nowhere again, and its neighbours in its stead. */
function runOf(id: Id, length: number): Run {
  if (length === 0 || id.clock + length > limits.clock) throw new Refused("not-text");
  return { ...id, length };
}

/** Nothing can stand beside what its own hand wrote later. */
function earlier(own: Id, neighbour: Id): Id {
  if (neighbour.client === own.client && neighbour.clock >= own.clock) throw new Refused("not-text");
  return neighbour;
}
