"use client";
import dynamic from "next/dynamic";
import { useState } from "react";
import { gate } from "~/core/cure/gate";
import type { Picture } from "~/core/cure/picture";
import type { Facts } from "~/core/shop/facts";
import type { ContactPair, Piece } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { gateTimeWords } from "~/ui/floor/gate-words";
import { moment } from "~/ui/format";
import { Key, Keys } from "~/ui/kit/key";
import { PiecePart } from "./piece-part";

const PairsSheet = dynamic(() => import("./pairs-sheet").then((module) => module.PairsSheet), { ssr: false });

export const pairSortWords: Record<ContactPair["sort"], string> = {
  assembled: "when put together",
  leaf: "a leaf, closed",
  stacked: "stacked",
};

const spacerWords: Record<ContactPair["spacer"], string> = {
  none: "face against face",
  felt: "felt between",
  paper: "paper between",
  foam: "foam between",
};

type PairsPartProps = {
  facts: Facts;
  picture?: Picture;
  piece: Piece;
  now: InstantMs;
  zone: string;
  mayPlan: boolean;
  onPress: () => void;
};

/** Faces that touch: together or apart, and since when or from when they may. */
export function PairsPart({ facts, picture, piece, now, zone, mayPlan, onPress }: PairsPartProps) {
  const [isOpen, setOpen] = useState(false);
  const pairs = facts.where("pair", "pieceId", piece.id);
  const hasTwo = facts.where("surface", "pieceId", piece.id).length > 1;
  const nameOf = (id: string) => facts.get("surface", id)?.name.toLowerCase() ?? "a face";
  const stateOf = (pair: ContactPair) => {
    if (!pair.isApart) return `together since ${moment(pair.changedAt, now, zone)}, ${spacerWords[pair.spacer]}`;
    const may =
      picture && gateTimeWords(gate(picture, { action: "press-together", pairId: pair.id }, now), now, zone, picture);
    return may === undefined ? "apart" : `apart; together: ${may}`;
  };
  if (!hasTwo && pairs.length === 0) return null;
  return (
    <PiecePart title="Faces that touch">
      <ul className="ruled-lines">
        {pairs.map((pair) => (
          <li key={pair.id}>
            <p>
              <b>
                {nameOf(pair.surfaceA)} against {nameOf(pair.surfaceB)}
              </b>{" "}
              <small>{pairSortWords[pair.sort]}</small>
              <br />
              {stateOf(pair)}
            </p>
          </li>
        ))}
      </ul>
      {pairs.length === 0 && (
        <p className="why">
          None are noted. Fronts in a body, a leaf on a top: note them, and the gate asks both films.
        </p>
      )}
      <Keys>
        {pairs.length > 0 && <Key onPress={onPress}>Press together or apart</Key>}
        {mayPlan && hasTwo && (
          <Key kind="quiet" onPress={() => setOpen(true)}>
            Note two faces
          </Key>
        )}
      </Keys>
      {isOpen && <PairsSheet pieceId={piece.id} onClose={() => setOpen(false)} />}
    </PiecePart>
  );
}
