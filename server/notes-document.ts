import * as Y from "yjs";
import { limits } from "~/core/wire";

/** The two texts that members write together: the condition report and the journal of a piece. */
export const notesTexts = ["condition", "journal"] as const;

/** Why an update is not taken: it is no plain text in these two; it is too much; or something before it is missing. */
export type Fault = "not-text" | "too-large" | "gap" | "not-yours";

/** Of one update, what it brings anew. */
type News = { writers: Set<number> };

/** The notes of a piece as a Yjs document, and the judgement on what clients want to add to it. */
export class NotesDocument {
  readonly document = new Y.Doc();
  /** Yjs has no refusal: each update is tried here first, and this copy is thrown away when one was bad. */
  private trial = new Y.Doc();

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
    const read = plainText(update);
    if (!read) return "not-text";
    const news = read.filter(({ id, length }) => Y.getState(this.trial.store, id.client) < id.clock + length);
    const writers = new Set(news.map(({ id }) => id.client));
    if (![...writers].every(mayWriteAs)) return "not-yours";
    try {
      Y.applyUpdate(this.trial, update);
    } catch {
      return "not-text";
    }
    if (this.trial.store.pendingStructs !== null || this.trial.store.pendingDs !== null) return "gap";
    const roots = [...this.trial.share.keys()];
    if (!roots.every((root) => (notesTexts as readonly string[]).includes(root))) return "not-text";
    const length = notesTexts.reduce((sum, text) => sum + this.trial.getText(text).length, 0);
    return length > limits.notesCharacters ? "too-large" : { writers };
  }

  /** Begins the trial copy anew, with what is accepted but not yet applied. */
  retry(accepted: readonly Uint8Array[]): void {
    this.trial.destroy();
    this.trial = new Y.Doc();
    Y.applyUpdate(this.trial, Y.encodeStateAsUpdate(this.document));
    for (const update of accepted) Y.applyUpdate(this.trial, update);
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

  text(name: (typeof notesTexts)[number]): string {
    return this.document.getText(name).toString();
  }

  stateVector(): Uint8Array {
    return Y.encodeStateVector(this.document);
  }

  /** @throws where the vector is broken */
  since(stateVector?: Uint8Array): Uint8Array<ArrayBuffer> {
    return new Uint8Array(Y.encodeStateAsUpdate(this.document, stateVector));
  }

  /** @throws where the update is broken */
  contains(update: Uint8Array): boolean {
    return Y.snapshotContainsUpdate(Y.snapshot(this.document), update);
  }

  destroy(): void {
    this.document.destroy();
    this.trial.destroy();
  }
}

type Struct = { id: { client: number; clock: number }; length: number };

/**
 * The structs of an update that holds nothing but characters in the two texts and what was deleted there; undefined for
 * anything else, and for bytes that are no update. Looked at before it touches any document.
 */
function plainText(update: Uint8Array): Struct[] | undefined {
  try {
    const { structs } = Y.decodeUpdate(update);
    return structs.every(isPlain) ? structs : undefined;
  } catch {
    return undefined;
  }
}

function isPlain(struct: Y.Item | Y.GC | Y.Skip): boolean {
  if (struct instanceof Y.GC) return true;
  if (!(struct instanceof Y.Item)) return false;
  const isInText =
    struct.parent === null ||
    (typeof struct.parent === "string" && (notesTexts as readonly string[]).includes(struct.parent));
  const isCharacters = struct.content instanceof Y.ContentString || struct.content instanceof Y.ContentDeleted;
  return isInText && struct.parentSub === null && isCharacters;
}
