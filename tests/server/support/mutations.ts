import fc from "fast-check";
import * as Y from "yjs";

/** Updates as honest devices make them: of several writers, with text between text, and text struck out. */
function honestUpdates(): Uint8Array[] {
  const shared = new Y.Doc();
  const updates: Uint8Array[] = [];
  for (const [index, words] of ["left foot is loose", "veneer lifts", "glued on Monday"].entries()) {
    const writer = new Y.Doc();
    writer.clientID = 1000 + index;
    Y.applyUpdate(writer, Y.encodeStateAsUpdate(shared));
    const before = Y.encodeStateVector(writer);
    writer.getText("journal").insert(index * 3, words);
    writer.getText("condition").insert(0, words.slice(0, 4));
    writer.getText("journal").delete(index, 2 + index);
    writer.getText("journal").insert(index + 1, "é漢🪑");
    const update = Y.encodeStateAsUpdate(writer, before);
    updates.push(update);
    Y.applyUpdate(shared, update);
  }
  return [...updates, Y.encodeStateAsUpdate(shared)];
}

const change = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      kind: fc.constant("set" as const),
      at: fc.nat(),
      bytes: fc.uint8Array({ minLength: 1, maxLength: 1 }),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant("insert" as const),
      at: fc.nat(),
      bytes: fc.uint8Array({ minLength: 1, maxLength: 9 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ kind: fc.constant("cut" as const), at: fc.nat(), bytes: fc.constant(new Uint8Array()) }),
  },
);

/** An honest update of which a few bytes are others, more, or missing. */
export const mutatedUpdate: fc.Arbitrary<Uint8Array> = fc
  .tuple(fc.constantFrom(...honestUpdates()), fc.array(change, { minLength: 1, maxLength: 4 }))
  .map(([honest, changes]) =>
    changes.reduce((bytes: Uint8Array, { kind, at, bytes: added }) => {
      const place = at % (bytes.length + 1);
      const rest = kind === "cut" ? bytes.length : kind === "set" ? place + added.length : place;
      return Uint8Array.from([...bytes.slice(0, place), ...added, ...bytes.slice(rest)]);
    }, honest),
  );
