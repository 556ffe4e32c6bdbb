"use client";
import { useState } from "react";
import type { ContactPair } from "~/core/shop/tables";
import { ActSheet, type PieceSheetProps } from "~/ui/floor/acts/act-sheet";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";

type Sort = ContactPair["sort"];
const sorts: { id: Sort; words: string; detail: string }[] = [
  { id: "assembled", words: "Put together", detail: "doors in frames, drawers in cases" },
  { id: "leaf", words: "A leaf", detail: "closed on another face" },
  { id: "stacked", words: "Stacked", detail: "one lies on the other" },
];

/** Two surfaces that will lie on each other: the later of the two films decides. */
export function PairsSheet({ pieceId, onClose }: PieceSheetProps) {
  const { facts, newId, head, send } = usePieceAct(pieceId);
  const surfaces = facts.where("surface", "pieceId", pieceId);
  const [surfaceA, setA] = useState<string>();
  const [surfaceB, setB] = useState<string>();
  const [sort, setSort] = useState<Sort>("assembled");
  const [isPressed, setPressed] = useState(false);
  const choices = surfaces.map((surface) => ({ id: surface.id, words: surface.name }));
  const note = async () => {
    setPressed(true);
    if (!surfaceA || !surfaceB || surfaceA === surfaceB) return;
    const pairs = [{ pairId: newId(), surfaceA, surfaceB, sort }];
    if (await send("set-pairs", { pairs }, { said: "Noted: these two faces touch." })) onClose();
  };
  return (
    <ActSheet title="Two faces that touch" {...head} onClose={onClose}>
      <ChoiceField
        label="One face"
        glove
        choices={choices}
        chosen={surfaceA ?? null}
        onChoose={setA}
        error={isPressed && !surfaceA ? "Choose a face." : undefined}
      />
      <ChoiceField
        label="The other"
        glove
        choices={choices}
        chosen={surfaceB ?? null}
        onChoose={setB}
        error={isPressed && (!surfaceB || surfaceA === surfaceB) ? "Choose another face than the first." : undefined}
      />
      <RadioField label="How they touch" glove choices={sorts} chosen={sort} onChoose={setSort} />
      <Key kind="main" glove wide onPress={() => void note()}>
        Note them
      </Key>
    </ActSheet>
  );
}
