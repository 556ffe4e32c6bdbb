import * as Y from "yjs";
import { limits } from "~/core/wire-limits";
import type { Id, Struct } from "./notes-update";

/**
 * What several hands wrote at the same place is put in order by going through all of it, anew for each struct: thousands
 * that claim the same place could keep everybody waiting for minutes. So the steps are counted first, in the document as
 * it is.
 */
export function isTooIntricate(document: Y.Doc, fresh: readonly Struct[]): boolean {
  const places = new Places(document, fresh);
  let left = limits.mergeSteps;
  for (const struct of fresh) {
    const end = places.endOf(struct);
    for (let item = places.startOf(struct); item !== null && !isAt(item, end); item = item.right) {
      left -= 1;
      if (left < 0) return true;
    }
  }
  return false;
}

const isAt = ({ id, length }: Y.Item, at: Id | undefined): boolean =>
  at !== undefined && id.client === at.client && id.clock <= at.clock && at.clock < id.clock + length;

/** Where the structs of an update are to go. A struct may stand beside one of the same update, and that beside another. */
class Places {
  private readonly ofClient = new Map<number, Struct[]>();
  private readonly ends = new Map<Struct, Struct>();
  private readonly homes = new Map<Struct, Struct>();

  constructor(
    private readonly document: Y.Doc,
    fresh: readonly Struct[],
  ) {
    for (const struct of fresh) {
      const known = this.ofClient.get(struct.client);
      if (known) known.push(struct);
      else this.ofClient.set(struct.client, [struct]);
    }
  }

  /** The first of what the document has from there on; null for what stands behind something that comes along with it. */
  startOf(struct: Struct): Y.Item | null {
    if (struct.left) return this.itemAt(struct.left)?.right ?? null;
    const { parent, left, right } = last(struct, this.homes, (one) => this.inUpdate(one.left ?? one.right));
    if (parent !== undefined) return this.document.getText(parent)._start;
    const neighbour = left ?? right;
    const home = neighbour && this.itemAt(neighbour)?.parent;
    return home ? (home as Y.AbstractType<unknown>)._start : null;
  }

  /** Before what of the document it goes; undefined: before nothing. */
  endOf(struct: Struct): Id | undefined {
    return last(struct, this.ends, (one) => this.inUpdate(one.right)).right;
  }

  private inUpdate(id: Id | undefined): Struct | undefined {
    const structs = id && this.ofClient.get(id.client);
    if (!structs || id.clock < Y.getState(this.document.store, id.client)) return undefined;
    let [from, to] = [0, structs.length - 1];
    while (from < to) {
      const middle = (from + to + 1) >> 1;
      if ((structs[middle] as Struct).clock <= id.clock) from = middle;
      else to = middle - 1;
    }
    return structs[from];
  }

  private itemAt({ client, clock }: Id): Y.Item | undefined {
    const { store } = this.document;
    if (clock >= Y.getState(store, client)) return undefined;
    const found = Y.getItem(store, Y.createID(client, clock));
    return found instanceof Y.Item ? found : undefined;
  }
}

/** The last of a chain, remembered for all that lead to it; of a chain that bites its tail, any. */
function last(struct: Struct, known: Map<Struct, Struct>, next: (struct: Struct) => Struct | undefined): Struct {
  const path = new Set<Struct>();
  let one = struct;
  for (;;) {
    const further: Struct | undefined = known.get(one) ?? next(one);
    path.add(one);
    if (further === undefined || path.has(further)) break;
    one = further;
  }
  for (const passed of path) known.set(passed, one);
  return one;
}
