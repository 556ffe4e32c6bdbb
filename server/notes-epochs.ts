/**
 * From one epoch of notes to the next: the same two texts in a new document, without the history of how they came about.
 * What a device wrote in its old copy, and nobody had, is carried over: every character that stood at the end of the old
 * epoch has its place in the new one, and what the device wrote between them keeps its own client and a counted clock. So
 * the same words always become the same update, and who sends them twice adds nothing.
 */
import * as encoding from "lib0/encoding";
import * as Y from "yjs";

/** In the order in which a new epoch holds them; epochs that are over count on it. */
const inOrder = ["condition", "journal"] as const;

type Id = { client: number; clock: number };
type Text = (typeof inOrder)[number];

/** A stretch of the old document, and where the first of its characters went; gone ones lie before that place. */
type Run = Id & { length: number; text: Text; isGone: boolean; place: number };

/**
 * The texts alone, as if one hand had written them in one go: under a client id that is the epoch's number, the report
 * first. Browsers draw theirs from four thousand million.
 */
export function foundNotes(old: Y.Doc, epoch: number): Uint8Array<ArrayBuffer> {
  const fresh = new Y.Doc();
  fresh.clientID = epoch;
  for (const text of inOrder) fresh.getText(text).insert(0, old.getText(text).toString());
  const state = new Uint8Array(Y.encodeStateAsUpdate(fresh));
  fresh.destroy();
  return state;
}

/** An epoch of notes that is over, as it was at its end. */
export class EndedNotes {
  /** What a device is asked by for the rest. */
  readonly stateVector: Uint8Array;
  private readonly runsByClient = new Map<number, Run[]>();
  private readonly ends: ReadonlyMap<number, number>;
  private readonly sizes = new Map<Text, { from: number; to: number }>();

  /** @param founder the client id of the next epoch's founding: its number */
  constructor(
    state: Uint8Array,
    private readonly founder: number,
  ) {
    const document = new Y.Doc();
    Y.applyUpdate(document, state);
    this.stateVector = Y.encodeStateVector(document);
    this.ends = Y.decodeStateVector(this.stateVector);
    let place = 0;
    for (const text of inOrder) {
      const from = place;
      for (let item = document.getText(text)._start; item; item = item.right) {
        const { id, length, deleted: isGone } = item;
        const runs = this.runsByClient.get(id.client) ?? [];
        runs.push({ ...id, length, text, isGone, place });
        this.runsByClient.set(id.client, runs);
        if (!isGone) place += length;
      }
      this.sizes.set(text, { from, to: place });
    }
    for (const runs of this.runsByClient.values()) runs.sort((one, other) => one.clock - other.clock);
    document.destroy();
  }

  /** An update of the old document as one of the next epoch's. @throws where the update is broken */
  carryOver(update: Uint8Array): Uint8Array<ArrayBuffer> {
    const { structs, ds } = Y.decodeUpdate(update);
    const late = structs.filter(({ id, length }) => id.clock + length > this.endOf(id.client));
    const encoder = encoding.createEncoder();
    const byClient = new Map<number, Struct[]>();
    for (const one of late) byClient.set(one.id.client, [...(byClient.get(one.id.client) ?? []), one]);
    encoding.writeVarUint(encoder, byClient.size);
    for (const [client, ofClient] of byClient) {
      const first = Math.max(ofClient[0]?.id.clock ?? 0, this.endOf(client));
      encoding.writeVarUint(encoder, ofClient.length);
      encoding.writeVarUint(encoder, client);
      encoding.writeVarUint(encoder, first - this.endOf(client));
      for (const struct of ofClient) this.writeStruct(encoder, struct, late);
    }
    this.writeDeletions(encoder, ds.clients);
    return new Uint8Array(encoding.toUint8Array(encoder));
  }

  /** As Yjs writes structs in its first format; a stretch that is known up to its middle goes on from there. */
  private writeStruct(encoder: encoding.Encoder, struct: Struct, late: readonly Struct[]): void {
    const known = Math.max(0, this.endOf(struct.id.client) - struct.id.clock);
    const length = struct.length - known;
    if (!(struct instanceof Y.Item)) {
      encoding.writeUint8(encoder, struct instanceof Y.Skip ? structKind.skip : structKind.gone);
      encoding.writeVarUint(encoder, length);
      return;
    }
    const before = known > 0 ? { client: struct.id.client, clock: struct.id.clock + known - 1 } : struct.origin;
    const [left, right] = [before && this.leftOf(before), struct.rightOrigin && this.rightOf(struct.rightOrigin)];
    const kind = struct.content instanceof Y.ContentString ? structKind.characters : structKind.deleted;
    encoding.writeUint8(encoder, kind | (left ? hasLeft : 0) | (right ? hasRight : 0));
    if (left) writeId(encoder, left);
    if (right) writeId(encoder, right);
    if (!left && !right) {
      encoding.writeVarUint(encoder, 1); // its parent is named, not one of the structs
      encoding.writeVarString(encoder, this.textOf(struct, late));
    }
    if (struct.content instanceof Y.ContentString) encoding.writeVarString(encoder, struct.content.str.slice(known));
    else encoding.writeVarUint(encoder, length);
  }

  private writeDeletions(encoder: encoding.Encoder, deleted: ReadonlyMap<number, { clock: number; len: number }[]>) {
    const gone = new Map<number, { clock: number; len: number }[]>();
    const add = (client: number, clock: number, len: number) =>
      gone.set(client, [...(gone.get(client) ?? []), { clock, len }]);
    for (const [client, ranges] of deleted) {
      const end = this.endOf(client);
      for (const { clock, len } of ranges) {
        for (const run of this.runsByClient.get(client) ?? []) {
          const [from, to] = [Math.max(clock, run.clock), Math.min(clock + len, run.clock + run.length)];
          if (!run.isGone && from < to) add(this.founder, run.place + from - run.clock, to - from);
        }
        const from = Math.max(clock, end);
        if (from < clock + len) add(client, from - end, clock + len - from);
      }
    }
    encoding.writeVarUint(encoder, gone.size);
    for (const [client, ranges] of gone) {
      ranges.sort((one, other) => one.clock - other.clock);
      encoding.writeVarUint(encoder, client);
      encoding.writeVarUint(encoder, ranges.length);
      for (const { clock, len } of ranges) {
        encoding.writeVarUint(encoder, clock);
        encoding.writeVarUint(encoder, len);
      }
    }
  }

  /** The character behind which something stood, or the last one before it that still stands. */
  private leftOf(id: Id): Id | undefined {
    const run = this.runOf(id);
    if (!run) return this.lateId(id);
    const place = run.isGone ? run.place - 1 : run.place + id.clock - run.clock;
    return place >= (this.sizes.get(run.text)?.from ?? 0) ? { client: this.founder, clock: place } : undefined;
  }

  private rightOf(id: Id): Id | undefined {
    const run = this.runOf(id);
    if (!run) return this.lateId(id);
    const place = run.isGone ? run.place : run.place + id.clock - run.clock;
    return place < (this.sizes.get(run.text)?.to ?? 0) ? { client: this.founder, clock: place } : undefined;
  }

  private textOf(struct: Y.Item, late: readonly Struct[]): Text {
    if (typeof struct.parent === "string") return struct.parent as Text;
    const beside = struct.origin ?? struct.rightOrigin;
    const text = beside && this.runOf(beside)?.text;
    if (text) return text;
    const other = late.find(({ id, length }) => beside && isWithin(beside, { ...id, length }));
    return other instanceof Y.Item && other !== struct ? this.textOf(other, late) : inOrder[0];
  }

  private runOf(id: Id): Run | undefined {
    return this.runsByClient.get(id.client)?.find((run) => isWithin(id, run));
  }

  private lateId = ({ client, clock }: Id): Id => ({ client, clock: clock - this.endOf(client) });
  private endOf = (client: number): number => this.ends.get(client) ?? 0;
}

type Struct = Y.Item | Y.GC | Y.Skip;

/** The kinds of structs in Yjs's first update format, and the bits for what stands beside them. */
const structKind = { gone: 0, deleted: 1, characters: 4, skip: 10 } as const;
const [hasLeft, hasRight] = [0x80, 0x40];

const isWithin = (id: Id, of: Id & { length: number }): boolean =>
  id.client === of.client && id.clock >= of.clock && id.clock < of.clock + of.length;

function writeId(encoder: encoding.Encoder, { client, clock }: Id): void {
  encoding.writeVarUint(encoder, client);
  encoding.writeVarUint(encoder, clock);
}
