"use client";
import type { ReactNode } from "react";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Key } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { SpanHead } from "~/ui/kit/span-head";
import { useAct } from "~/ui/shell/act";
import { HitPieceBoard } from "./hit-piece-board";
import type { HitPiece, HitView } from "./hit-view";

type HitFoundProps = {
  view: HitView;
  mayAsk: boolean;
  mayPromise: boolean;
  /** Moves the promise of this piece. */
  onMove: (pieceId: string) => void;
};

/** What must be looked at first, then what comes later, then what was spared. */
export function HitFound({ view, mayAsk, mayPromise, onMove }: HitFoundProps) {
  const act = useAct();
  const { toLookAt, unaskedJointIds, later, spared, broken, said } = view;
  const count = unaskedJointIds.length;
  const ask = () =>
    act(
      "inspect-joints",
      { jointIds: unaskedJointIds },
      { said: count === 1 ? "On the board: one joint to look at." : `On the board: ${count} joints to look at.` },
    );
  const isNothing = toLookAt.length + later.length + broken.length === 0;
  return (
    <div className="hit-found">
      <p className="sr-only" role="status">
        {said}
      </p>
      {isNothing && (
        <EmptyBoard
          title="Nothing was hit."
          sentence={
            spared.length > 0
              ? "What stood here lost nothing that it was still waiting for."
              : "Nothing that was hardening stood in this room in these hours."
          }
        />
      )}
      {toLookAt.length > 0 && (
        <HitSpan words="Look at these joints" kind="never" pieces={toLookAt}>
          {mayAsk && count > 0 && (
            <div className="hit-keys">
              <Key kind="main" glove wide onPress={() => void ask()}>
                {count === 1 ? "Ask for one inspection" : `Ask for ${count} inspections`}
              </Key>
            </div>
          )}
        </HitSpan>
      )}
      {broken.length > 0 && (
        <section aria-label="Promises that cannot be kept" className="hit-part">
          <SpanHead words="Promises that cannot be kept" />
          {broken.map((promise) => (
            <Notice
              key={promise.promiseId}
              kind="person"
              title={`${promise.tag}: ${promise.words}`}
              keys={
                mayPromise && (
                  <Key glove onPress={() => onMove(promise.pieceId)}>
                    Move it and say why
                  </Key>
                )
              }
            />
          ))}
        </section>
      )}
      {later.length > 0 && <HitSpan words="Later than it would be" pieces={later} />}
      {spared.length > 0 && <HitSpan words="Not hurt" kind="open" pieces={spared} />}
      <p className="hit-rule">
        What it would be: the same hours at what this room was at that time of day on the days before. An estimate that
        may only delay; a hand on the piece outranks it.
      </p>
    </div>
  );
}

type HitSpanProps = {
  words: string;
  kind?: "plain" | "open" | "never";
  pieces: HitPiece[];
  children?: ReactNode;
};

const HitSpan = ({ words, kind, pieces, children }: HitSpanProps) => (
  <section aria-label={words} className="hit-part">
    <SpanHead words={words} kind={kind} />
    {pieces.map((piece) => (
      <HitPieceBoard key={piece.pieceId} piece={piece} />
    ))}
    {children}
  </section>
);
