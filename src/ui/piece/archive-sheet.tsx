"use client";
import { useState } from "react";
import { ActSheet, type PieceSheetProps } from "~/ui/floor/acts/act-sheet";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";

type How = "handed-over" | "thrown-out" | "used-for-parts";
const ways: { id: How; words: string }[] = [
  { id: "handed-over", words: "Handed over" },
  { id: "thrown-out", words: "Thrown out" },
  { id: "used-for-parts", words: "Used for parts" },
];

/** It has left the floor. Its hours and its history stay. */
export function ArchiveSheet({ pieceId, onClose }: PieceSheetProps) {
  const { piece, head, send } = usePieceAct(pieceId);
  const [how, setHow] = useState<How>();
  const [why, setWhy] = useState("");
  const [isPressed, setPressed] = useState(false);
  const putAway = async () => {
    setPressed(true);
    if (!how || why.trim() === "") return;
    if (
      await send(
        "archive-piece",
        { pieceId, how, why: why.trim() },
        { said: `${piece?.number ?? "It"} has left the floor.` },
      )
    )
      onClose();
  };
  return (
    <ActSheet title="It has left" {...head} onClose={onClose}>
      <RadioField
        label="How"
        glove
        choices={ways}
        chosen={how ?? null}
        onChoose={setHow}
        error={isPressed && !how ? "Say how it left." : undefined}
      />
      <TextField
        label="Why, or to whom"
        note="No names of buyers: this stays in the history."
        lines={2}
        maxLength={300}
        value={why}
        onChange={setWhy}
        error={isPressed && why.trim() === "" ? "Say why." : undefined}
      />
      <Key kind="take-back" glove wide onPress={() => void putAway()}>
        Take it off the floor
      </Key>
    </ActSheet>
  );
}
