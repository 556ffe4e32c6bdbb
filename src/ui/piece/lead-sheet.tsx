"use client";
import { useState } from "react";
import { ActSheet, type PieceSheetProps } from "~/ui/floor/acts/act-sheet";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { Key } from "~/ui/kit/key";
import { TextField } from "~/ui/kit/text-field";

/** Somebody decides that its paint counts as lead, tested or not. Only stripping and a laboratory undo it. */
export function LeadSheet({ pieceId, onClose }: PieceSheetProps) {
  const { piece, head, send } = usePieceAct(pieceId);
  const [why, setWhy] = useState("");
  const [isPressed, setPressed] = useState(false);
  const decide = async () => {
    setPressed(true);
    if (why.trim() === "") return;
    const said = `${piece?.number ?? "It"} is treated as lead.`;
    if (await send("treat-as-lead", { pieceId, why: why.trim() }, { said })) onClose();
  };
  return (
    <ActSheet title="Treat it as lead" {...head} onClose={onClose}>
      <p>
        No dry sanding and no heat on it from now on; stripping and wet sanding only wet and contained, and the buyer is
        told. Only stripping it and a laboratory that then finds none undo this. The local code and licensed practice go
        first.
      </p>
      <TextField
        label="Why"
        glove
        lines={2}
        maxLength={300}
        value={why}
        onChange={setWhy}
        error={isPressed && why.trim() === "" ? "Say why." : undefined}
      />
      <Key kind="stop" glove wide onPress={() => void decide()}>
        Treat it as lead
      </Key>
    </ActSheet>
  );
}
