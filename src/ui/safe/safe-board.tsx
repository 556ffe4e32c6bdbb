"use client";
import { useState } from "react";
import { Board, Order, WhenLine } from "~/ui/kit/board";
import { Film } from "~/ui/kit/film";
import { GateCells } from "~/ui/kit/gate-cells";
import { StateWord } from "~/ui/kit/glyph";
import { Key, Keys } from "~/ui/kit/key";
import { ActOnPiece, type PieceAct } from "../floor/acts/act-on-piece";
import type { SafePiece } from "./safe-view";

/** One piece in front of somebody's hands: the order, the cells, what holds, and two keys. */
export function SafeBoard({ piece }: { piece: SafePiece }) {
  const { pieceId, tag, name, order, cells, when, film, why, carry } = piece;
  const [open, setOpen] = useState<PieceAct>();
  return (
    <Board tag={tag} href={`/piece?id=${pieceId}`} title={name} level={3}>
      {order !== undefined && <Order>{order}</Order>}
      {cells && <GateCells cells={cells} />}
      {when && (
        <WhenLine act={<StateWord state={when.glyph} word={when.act} />} time={when.time} isBarred={when.isBarred} />
      )}
      {film && <Film {...film} />}
      {why !== "" && <p className="why">{why}</p>}
      <Keys lay={carry !== undefined ? "pair" : "row"}>
        {carry !== undefined && (
          <Key kind={order === undefined ? "plain" : "main"} glove onPress={() => setOpen("move")}>
            {carry === "hands" ? "I’m moving it" : "Move it on a stand"}
          </Key>
        )}
        <Key glove onPress={() => setOpen("test")}>
          Test by hand
        </Key>
      </Keys>
      {open && <ActOnPiece act={open} pieceId={pieceId} onClose={() => setOpen(undefined)} />}
    </Board>
  );
}
