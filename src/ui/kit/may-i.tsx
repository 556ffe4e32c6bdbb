import { Glyph, type GlyphState } from "./glyph";

export type MayIGate = {
  gate: string;
  glyph: GlyphState;
} /** `by` stands in place of the time where a person's word opened it. */ & (
  | { form: "open"; since: string; by?: string }
  | { form: "waiting"; time: string }
  | { form: "never"; word: string }
);

const answer = (gate: MayIGate) => {
  if (gate.form === "open") return gate.by ?? `since ${gate.since}`;
  return gate.form === "never" ? gate.word : gate.time;
};

/** The gates of one piece in order, open since or opening at. */
export function MayI({ gates, title = "May I?" }: { gates: MayIGate[]; title?: string }) {
  return (
    <section className="may-i">
      <h3>{title}</h3>
      <ol>
        {gates.map((gate) => (
          <li key={gate.gate} data-form={gate.form}>
            <Glyph state={gate.glyph} />
            <b>{gate.gate} </b>
            <span>{answer(gate)}</span>
          </li>
        ))}
      </ol>
    </section>
  );
}
