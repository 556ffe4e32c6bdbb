import { Glyph, type GlyphState } from "./glyph";

export type GateCell = {
  /** The act in the plain word: "touch", "handle", "press together", "plastic wrap". */
  gate: string;
  glyph: GlyphState;
  /** Yes now; at a time; not for this piece; barred until a person decides. */
  form: "yes" | "when" | "not" | "barred";
  /** "yes", "Sun 07:20", "not for this", "decide". */
  answer: string;
};

/** May I, now: one cell for each gate, told apart by fill and edge as well as by the word. */
export function GateCells({ cells }: { cells: GateCell[] }) {
  return (
    <ol className="gate-cells" style={{ gridTemplateColumns: `repeat(${Math.min(4, cells.length)}, minmax(0, 1fr))` }}>
      {cells.map(({ gate, glyph, form, answer }) => (
        <li key={gate} data-form={form}>
          <Glyph state={glyph} />
          <b>{gate} </b>
          <span>{answer}</span>
        </li>
      ))}
    </ol>
  );
}
