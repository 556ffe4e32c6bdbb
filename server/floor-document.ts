import * as Y from "yjs";
import { type FloorPart, type FloorTable, floorParts } from "~/core/shop/floor";
import type { Row } from "~/core/shop/tables";
import { limits } from "~/core/wire-limits";
import { canonicalJson } from "~/data/canonical-json";
import { isKnown, runsOf } from "./known-update";
import { sameDocument } from "./same-document";

/** What one key of a part is to hold; undefined takes it away. Values are plain JSON, set whole. */
export type FloorEntry = { part: FloorPart; key: string; value: unknown };

/** The floor of a shop as a Yjs document. Only the server writes it, under a client id that is new at every load. */
export class FloorDocument {
  constructor(private readonly document = new Y.Doc()) {}

  /** @param updates a snapshot and what came after it; all in one go, because one by one is several times slower */
  static of(updates: readonly Uint8Array[]): FloorDocument {
    const floor = new FloorDocument();
    floor.apply(updates);
    return floor;
  }

  has(part: FloorPart, key: string): boolean {
    return this.document.getMap(part).has(key);
  }

  get(part: FloorPart, key: string): unknown {
    return this.document.getMap(part).get(key);
  }

  rows<Table extends FloorTable>(table: Table): Row<Table>[] {
    return [...this.document.getMap(table).values()] as Row<Table>[];
  }

  keys(part: FloorPart): string[] {
    return [...this.document.getMap(part).keys()];
  }

  /** Sets what differs, as one change. @returns the update that says so to other copies; undefined where nothing differs */
  set(entries: readonly FloorEntry[]): Uint8Array<ArrayBuffer> | undefined {
    const differing = entries.filter(({ part, key, value }) => !this.holds(part, key, value));
    if (differing.length === 0) return undefined;
    let made: Uint8Array<ArrayBuffer> | undefined;
    this.document.once("update", (update: Uint8Array) => {
      made = new Uint8Array(update);
    });
    this.document.transact(() => {
      for (const { part, key, value } of differing) {
        const map = this.document.getMap(part);
        if (value === undefined) map.delete(key);
        else map.set(key, JSON.parse(JSON.stringify(value)));
      }
    });
    return made;
  }

  /** These entries, and every other one taken away. */
  wholly(entries: readonly FloorEntry[]): FloorEntry[] {
    const wanted = new Set(entries.map(({ part, key }) => `${part} ${key}`));
    const over = floorParts.flatMap((part) =>
      this.keys(part)
        .filter((key) => !wanted.has(`${part} ${key}`))
        .map((key) => ({ part, key, value: undefined })),
    );
    return [...over, ...entries];
  }

  /** Takes in what another copy has set. */
  apply(updates: readonly Uint8Array[]): void {
    this.document.transact(() => {
      for (const update of updates) Y.applyUpdate(this.document, update);
    });
  }

  stateVector(): Uint8Array {
    return Y.encodeStateVector(this.document);
  }

  /** What a copy with this state vector lacks; everything where none is given. @throws where the vector is broken */
  since(stateVector?: Uint8Array): Uint8Array<ArrayBuffer> {
    return new Uint8Array(Y.encodeStateAsUpdate(this.document, stateVector));
  }

  /** Does an update bring nothing that is not here already, neither a value nor a deletion? */
  contains(update: Uint8Array): boolean {
    if (update.length > limits.repeatedBytes) return false;
    try {
      return isKnown(this.document, runsOf(update));
    } catch {
      return false; // no update at all
    }
  }

  /** Pieces of history in the document: what was set and is no more leaves one behind for ever. */
  get historySize(): number {
    return [...this.document.store.clients.values()].reduce((sum, ofClient) => sum + ofClient.length, 0);
  }

  /** Everything that it says, as JSON. */
  get jsonBytes(): number {
    return floorParts.reduce((sum, part) => sum + Buffer.byteLength(JSON.stringify(this.document.getMap(part))), 0);
  }

  /** Takes down what it holds now. @returns whether bytes hold exactly that */
  same = (): ((bytes: Uint8Array) => boolean) => sameDocument(this.document);

  get valueCount(): number {
    return floorParts.reduce((sum, part) => sum + this.document.getMap(part).size, 0);
  }

  destroy(): void {
    this.document.destroy();
  }

  private holds(part: FloorPart, key: string, value: unknown): boolean {
    if (value === undefined) return !this.has(part, key);
    return this.has(part, key) && canonicalJson(this.get(part, key)) === canonicalJson(value);
  }
}
