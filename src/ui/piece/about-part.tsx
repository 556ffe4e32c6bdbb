"use client";
import dynamic from "next/dynamic";
import { useState } from "react";
import type { Facts } from "~/core/shop/facts";
import type { Piece } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { Key, Keys } from "~/ui/kit/key";
import { aboutLines } from "./about-view";
import { PiecePart } from "./piece-part";

const EditPieceSheet = dynamic(() => import("./edit-piece-sheet").then((module) => module.EditPieceSheet), {
  ssr: false,
});
const LeadSheet = dynamic(() => import("./lead-sheet").then((module) => module.LeadSheet), { ssr: false });
const ArchiveSheet = dynamic(() => import("./archive-sheet").then((module) => module.ArchiveSheet), { ssr: false });

type AboutPartProps = { facts: Facts; piece: Piece; now: InstantMs; mayPlan: boolean };

export function AboutPart({ facts, piece, now, mayPlan }: AboutPartProps) {
  const [open, setOpen] = useState<"edit" | "lead" | "archive">();
  const close = () => setOpen(undefined);
  return (
    <PiecePart title="What it is">
      <dl className="piece-facts">
        {aboutLines(facts, piece, now).map(({ name, words, isCaution }) => (
          <div key={name} data-caution={isCaution || undefined}>
            <dt>{name}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      {mayPlan && (
        <Keys>
          <Key onPress={() => setOpen("edit")}>Change what it is</Key>
          {piece.isPainted !== "no" && !piece.treatAsLead && (
            <Key onPress={() => setOpen("lead")}>Treat it as lead</Key>
          )}
          <Key kind="quiet" onPress={() => setOpen("archive")}>
            It has left
          </Key>
        </Keys>
      )}
      {open === "edit" && <EditPieceSheet pieceId={piece.id} onClose={close} />}
      {open === "lead" && <LeadSheet pieceId={piece.id} onClose={close} />}
      {open === "archive" && <ArchiveSheet pieceId={piece.id} onClose={close} />}
    </PiecePart>
  );
}
