import * as Y from "yjs";

/** Takes down what a document holds now. @returns whether bytes hold exactly that, no value or deletion less or more */
export function sameDocument(document: Y.Doc): (bytes: Uint8Array) => boolean {
  const wanted = Y.snapshot(document);
  return (bytes) => {
    const found = new Y.Doc();
    try {
      Y.applyUpdate(found, bytes);
      const { pendingStructs, pendingDs } = found.store;
      return pendingStructs === null && pendingDs === null && Y.equalSnapshots(Y.snapshot(found), wanted);
    } finally {
      found.destroy();
    }
  };
}
