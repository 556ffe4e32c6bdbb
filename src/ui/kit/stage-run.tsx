import type { ReactNode } from "react";
import { type GlyphState, StateWord } from "./glyph";

/** The seven stages, nearest the door last. */
export const stages = ["acquisition", "repair", "prep", "finish", "cure", "listed", "sold"] as const;

export type StageName = (typeof stages)[number];

export type StageRunProps = {
  stage: StageName;
  /** Sold before it is finished: the last block is dotted. */
  isSoldAhead?: boolean;
  glyph?: GlyphState;
  /** The state's word, beside its glyph: "tack-free", "day 27 of 30". */
  state?: string;
  /** What the window is about: "all faces, L1 coat 2 of 2 · 2.4 of 4 h". */
  what?: string;
  /** The film, or a day rule; without either the wood stays bare. */
  children?: ReactNode;
};

/** Painted stages, the present stage as a wide window, and stages ahead in pencil, on one line of wood. */
export function StageRun({ stage, isSoldAhead = false, glyph, state, what, children }: StageRunProps) {
  const here = stages.indexOf(stage);
  const label = `${stage}, stage ${here + 1} of ${stages.length}${isSoldAhead ? ", sold ahead" : ""}`;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset gathers form fields; this gathers a drawing
    <div className="stage-run" role="group" aria-label={label}>
      {stages.slice(0, here).map((past) => (
        <Block key={past} stage={past} kind="past" />
      ))}
      <div className="stage-window">
        <div className="stage-top">
          <b>{stage}</b>
          {state !== undefined &&
            (glyph ? <StateWord state={glyph} word={state} /> : <span className="state-word">{state}</span>)}
          {what !== undefined && <span className="stage-what">{what}</span>}
        </div>
        {children ?? <div className="wood-line" />}
      </div>
      {stages.slice(here + 1).map((ahead) => (
        <Block key={ahead} stage={ahead} kind={isSoldAhead && ahead === "sold" ? "spoken-for" : "ahead"} />
      ))}
    </div>
  );
}

function Block({ stage, kind }: { stage: StageName; kind: "past" | "ahead" | "spoken-for" }) {
  return (
    <div className="stage-block" data-kind={kind} aria-hidden="true">
      <i>{stage}</i>
      <span />
      <div className="wood-line" />
    </div>
  );
}
