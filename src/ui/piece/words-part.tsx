"use client";
import dynamic from "next/dynamic";
import { useMemo, useState } from "react";
import type { Picture } from "~/core/cure/picture";
import type { Piece, Word } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { Key, Keys } from "~/ui/kit/key";
import { useAct } from "~/ui/shell/act";
import { PiecePart } from "./piece-part";
import { wordChoices, wordLines } from "./word-view";

const WordSheet = dynamic(() => import("./word-sheet").then((module) => module.WordSheet), { ssr: false });

type WordsPartProps = { picture?: Picture; piece: Piece; now: InstantMs; zone: string; mayPlan: boolean };

/** What is open because somebody said so: whose word, until when, and why. */
export function WordsPart({ picture, piece, now, zone, mayPlan }: WordsPartProps) {
  const act = useAct();
  const [isOpen, setOpen] = useState(false);
  const lines = useMemo(() => (picture ? wordLines(picture, now, zone) : []), [picture, now, zone]);
  const mayGive = useMemo(
    () => mayPlan && picture !== undefined && wordChoices(picture, now, zone).length > 0,
    [mayPlan, picture, now, zone],
  );
  if (lines.length === 0 && !mayGive) return null;
  const withdraw = (word: Word) =>
    act(
      "withdraw-word",
      { wordId: word.id },
      { tag: piece.number, name: piece.name, said: "Your word is taken back." },
    );
  return (
    <PiecePart title="By somebody’s word">
      {lines.length === 0 && <p className="why">Nothing is open on anybody’s word.</p>}
      <ul className="ruled-lines">
        {lines.map(({ word, words, detail }) => (
          <li key={word.id}>
            <p>
              <b>{words}</b>
              <br />
              <small>{detail}</small>
            </p>
            {mayPlan && (
              <Key kind="quiet" onPress={() => void withdraw(word)}>
                Take it back
              </Key>
            )}
          </li>
        ))}
      </ul>
      {mayGive && (
        <Keys>
          <Key onPress={() => setOpen(true)}>Give your word</Key>
        </Keys>
      )}
      {isOpen && <WordSheet pieceId={piece.id} onClose={() => setOpen(false)} />}
    </PiecePart>
  );
}
