import * as Y from "yjs";

/** What the server is known to have of a document, from all that it has said since the line opened. */
export class AtServer {
  private vector = new Map<number, number>();
  private deletes = Y.createDeleteSet();

  /** A new line: perhaps to a server that was put back to last night. */
  forget(): void {
    this.vector = new Map();
    this.deletes = Y.createDeleteSet();
  }

  /** The state vector with which it asks what it lacks. */
  takeVector(vector: Uint8Array): void {
    for (const [client, clock] of Y.decodeStateVector(vector)) this.reaches(client, clock);
  }

  /** What it tells of others, or of this device: to hear one's own words is to know that they are kept. */
  takeUpdate(update: Uint8Array): void {
    const { structs, ds } = Y.decodeUpdate(update);
    for (const { id, length } of structs) this.reaches(id.client, id.clock + length);
    this.deletes = Y.mergeDeleteSets([this.deletes, ds]);
  }

  /** Nothing is in the document that the server has not. */
  has(document: Y.Doc): boolean {
    return Y.snapshotContainsUpdate(
      Y.createSnapshot(this.deletes, this.vector),
      Y.encodeStateAsUpdate(document) as Uint8Array<ArrayBuffer>,
    );
  }

  private reaches(client: number, clock: number): void {
    this.vector.set(client, Math.max(this.vector.get(client) ?? 0, clock));
  }
}
