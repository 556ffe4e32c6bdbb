"use client";
import { useState } from "react";
import type { Surface } from "~/core/shop/tables";
import { ActSheet } from "~/ui/floor/acts/act-sheet";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { CheckField } from "~/ui/kit/check-field";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { substrateWords } from "./about-view";
import { fieldEdits, figureOrNothing, textOrNothing } from "./field-edits";

const substrates = (Object.keys(substrateWords) as Surface["substrate"][]).map((id) => ({
  id,
  words: substrateWords[id],
}));

type SurfaceSheetProps = { pieceId: string; surface?: Surface; onClose: () => void };

/** A part with a finish of its own: named now, or changed. */
export function SurfaceSheet({ pieceId, surface, onClose }: SurfaceSheetProps) {
  const { newId, head, send } = usePieceAct(pieceId);
  const [before] = useState(surface);
  const [name, setName] = useState(before?.name ?? "");
  const [squareDecimetres, setArea] = useState(before?.squareDecimetres ?? Number.NaN);
  const [wood, setWood] = useState(before?.wood ?? "");
  const [substrate, setSubstrate] = useState<Surface["substrate"]>(before?.substrate ?? "bare");
  const [veneerMicrometres, setVeneer] = useState(before?.veneerMicrometres ?? Number.NaN);
  const [isPaleWanted, setPale] = useState(before?.isPaleWanted ?? false);
  const [bleedRisk, setBleed] = useState<Surface["bleedRisk"]>(before?.bleedRisk ?? "unknown");
  const [isPressed, setPressed] = useState(false);

  const save = async () => {
    setPressed(true);
    const area = figureOrNothing(squareDecimetres);
    if (name.trim() === "" || area === undefined) return;
    const wanted = {
      name: name.trim(),
      squareDecimetres: area,
      wood: textOrNothing(wood),
      substrate,
      veneerMicrometres: substrate === "veneer" ? figureOrNothing(veneerMicrometres) : undefined,
      isPaleWanted,
      bleedRisk,
    };
    if (!before) {
      if (await send("add-surface", { surfaceId: newId(), pieceId, ...wanted }, { said: `${wanted.name} is named.` }))
        onClose();
      return;
    }
    for (const edit of fieldEdits(before, wanted)) {
      if (!(await send("edit-surface", { surfaceId: before.id, ...edit }, { said: `${before.name} is changed.` })))
        return;
    }
    onClose();
  };

  return (
    <ActSheet title={before ? before.name : "Add a surface"} {...head} onClose={onClose}>
      <TextField
        label="Name"
        glove
        note="Body, top, legs, drawer fronts."
        maxLength={40}
        value={name}
        onChange={setName}
        error={isPressed && name.trim() === "" ? "Give it a name." : undefined}
      />
      <NumberField
        label="Area"
        glove
        unit="dm²"
        minValue={1}
        maxValue={10_000}
        note="100 dm² are one square metre."
        value={squareDecimetres}
        onChange={setArea}
        error={isPressed && Number.isNaN(squareDecimetres) ? "Measure it: length by width." : undefined}
      />
      <ChoiceField label="What lies there" glove choices={substrates} chosen={substrate} onChoose={setSubstrate} />
      {substrate === "veneer" && (
        <NumberField
          label="Veneer"
          glove
          unit="µm"
          minValue={1}
          maxValue={10_000}
          value={veneerMicrometres}
          onChange={setVeneer}
        />
      )}
      <TextField label="Wood" glove maxLength={60} value={wood} onChange={setWood} />
      <CheckField label="A pale finish is wanted on it" isChecked={isPaleWanted} onChange={setPale} />
      <RadioField
        label="May it bleed through?"
        glove
        note="Red-brown woods and old stains do. A bleed patch for a day answers it."
        choices={[
          { id: "yes", words: "Yes" },
          { id: "no", words: "No" },
          { id: "unknown", words: "Not known" },
        ]}
        chosen={bleedRisk}
        onChoose={setBleed}
      />
      <Key kind="main" glove wide onPress={() => void save()}>
        {before ? "Write it down" : "Add it"}
      </Key>
    </ActSheet>
  );
}
