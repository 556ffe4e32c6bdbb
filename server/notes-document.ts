import * as Y from "yjs";
import { limits } from "~/core/wire-limits";
import { isKnown } from "./known-update";
import { isTooIntricate } from "./merge-cost";
import { type NotesUpdate, notesTexts, readNotesUpdate, type ShapeFault } from "./notes-update";

/** Why an update is not taken. A gap: something before it is missing. */
export type Fault = ShapeFault | "not-yours";

/** Of one update, what it brings anew. */
type News = { writers: Set<number> };

/** The notes of a piece as a Yjs document, and the judgement on what clients want to add to it. */
export class NotesDocument {
  readonly document = new Y.Doc();
  /** Yjs has no refusal: each update is tried here first, and this copy is thrown away when one was bad. */
  private trial = new Y.Doc();
  private isSpoilt = true;

  constructor(updates: readonly Uint8Array[]) {
    this.document.transact(() => {
      for (const update of updates) Y.applyUpdate(this.document, update);
    });
    this.retry([]);
  }

  /**
   * Tries an update on top of everything accepted so far. After a fault, `retry` before the next.
   *
   * @returns what is wrong with it, or the client ids that wrote what is new in it
   */
  try(update: Uint8Array, mayWriteAs: (clientId: number) => boolean): Fault | News {
    const read = readNotesUpdate(update);
    if (typeof read === "string") return read;
    const { store } = this.trial;
    const fresh = read.structs.filter(({ client, clock, length }) => Y.getState(store, client) < clock + length);
    const writers = new Set(fresh.map(({ client }) => client));
    if (![...writers].every(mayWriteAs)) return "not-yours";
    if (hasGap(this.trial, read)) return "gap";
    if (isTooIntricate(this.trial, fresh)) return "too-large";
    return this.applied(update, fresh.length > 0) ?? { writers };
  }

  /** Begins the trial copy anew where the last update has spoilt it, with what is accepted but not yet applied. */
  retry(accepted: readonly Uint8Array[]): void {
    if (!this.isSpoilt) return;
    this.trial.destroy();
    this.trial = new Y.Doc();
    Y.applyUpdate(this.trial, Y.encodeStateAsUpdate(this.document));
    for (const update of accepted) Y.applyUpdate(this.trial, update);
    this.isSpoilt = false;
  }

  private applied(update: Uint8Array, isLonger: boolean): Fault | undefined {
    const { trial } = this;
    this.isSpoilt = true;
    try {
      Y.applyUpdate(trial, update);
    } catch {
      return "not-text";
    }
    if (trial.store.pendingStructs !== null || trial.store.pendingDs !== null) return "gap";
    const characters = notesTexts.reduce((sum, text) => sum + trial.getText(text).length, 0);
    const structs = [...trial.store.clients.values()].reduce((sum, ofClient) => sum + ofClient.length, 0);
    if (isLonger && (characters > limits.notesCharacters || structs > limits.notesStructs)) return "too-large";
    this.isSpoilt = false;
    return undefined;
  }

  apply(updates: readonly Uint8Array[]): void {
    this.document.transact(() => {
      for (const update of updates) Y.applyUpdate(this.document, update);
    });
  }

  /** Takes in what was accepted elsewhere, on top of which everything else is now tried as well. */
  applyOfOthers(updates: readonly Uint8Array[]): void {
    this.apply(updates);
    this.trial.transact(() => {
      for (const update of updates) Y.applyUpdate(this.trial, update);
    });
  }

  text(name: "condition" | "journal"): string {
    return this.document.getText(name).toString();
  }

  stateVector(): Uint8Array {
    return Y.encodeStateVector(this.document);
  }

  /** @throws where the vector is broken */
  since(stateVector?: Uint8Array): Uint8Array<ArrayBuffer> {
    return new Uint8Array(Y.encodeStateAsUpdate(this.document, stateVector));
  }

  contains(update: Uint8Array): boolean {
    const read = readNotesUpdate(update);
    return typeof read !== "string" && isKnown(this.document, read);
  }

  destroy(): void {
    this.document.destroy();
    this.trial.destroy();
  }
}

/** Does an update rest on anything that is neither in the document nor in itself? */
function hasGap({ store }: Y.Doc, { structs, deleted }: NotesUpdate): boolean {
  const ends = new Map<number, number>();
  const endOf = (client: number) => ends.get(client) ?? Y.getState(store, client);
  for (const { client, clock, length } of structs) {
    if (clock > endOf(client)) return true;
    ends.set(client, Math.max(endOf(client), clock + length));
  }
  const neighbours = structs.flatMap(({ left, right }) => [left, right]);
  return (
    neighbours.some((id) => id !== undefined && id.clock >= endOf(id.client)) ||
    deleted.some(({ client, clock, length }) => clock + length > endOf(client))
  );
}
