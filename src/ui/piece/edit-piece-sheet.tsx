"use client";
import { useState } from "react";
import type { Piece } from "~/core/shop/tables";
import { ActSheet, type PieceSheetProps } from "~/ui/floor/acts/act-sheet";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { kindWords } from "./about-view";
import { fieldEdits, figureOrNothing, textOrNothing } from "./field-edits";

const kinds = (Object.keys(kindWords) as Piece["kind"][]).map((id) => ({ id, words: kindWords[id] }));

/** Whole numbers are not grouped: a year is not 1,905. */
const plainFigure = { useGrouping: false };

/** What it is, field by field; another's change to the same field is never written over unseen. */
export function EditPieceSheet({ pieceId, onClose }: PieceSheetProps) {
  const { facts, piece: shown, head, send } = usePieceAct(pieceId);
  // as it was when the form was opened: that is what this person has seen
  const [before] = useState(shown);
  const [name, setName] = useState(before?.name ?? "");
  const [wood, setWood] = useState(before?.wood ?? "");
  const [kind, setKind] = useState<Piece["kind"]>(before?.kind ?? "other");
  const [boardId, setBoardId] = useState(before?.boardId ?? "");
  const [partCount, setPartCount] = useState(before?.partCount ?? 1);
  const [width, setWidth] = useState(before?.widthMillimetres ?? Number.NaN);
  const [depth, setDepth] = useState(before?.depthMillimetres ?? Number.NaN);
  const [height, setHeight] = useState(before?.heightMillimetres ?? Number.NaN);
  const [isPainted, setPainted] = useState<Piece["isPainted"]>(before?.isPainted ?? "unknown");
  const [madeYear, setMadeYear] = useState(before?.madeYear ?? Number.NaN);
  const [estimateMin, setEstimate] = useState(before?.estimateMin ?? Number.NaN);
  if (!before) return null;

  const save = async () => {
    const wanted = {
      name: name.trim(),
      kind,
      boardId,
      partCount: figureOrNothing(partCount) ?? before.partCount,
      widthMillimetres: figureOrNothing(width),
      depthMillimetres: figureOrNothing(depth),
      heightMillimetres: figureOrNothing(height),
      wood: textOrNothing(wood),
      isPainted,
      madeYear: figureOrNothing(madeYear),
      estimateMin: figureOrNothing(estimateMin),
    };
    for (const edit of fieldEdits(before, wanted)) {
      if (!(await send("edit-piece", { pieceId, ...edit }, { said: `${before.number} is changed.` }))) return;
    }
    onClose();
  };

  const boards = facts.all("board").filter((board) => board.closedOn === undefined);
  return (
    <ActSheet title="What it is" {...head} onClose={onClose}>
      <TextField
        label="Name"
        value={name}
        onChange={setName}
        maxLength={120}
        error={name.trim() === "" ? "Give it a name." : undefined}
      />
      <ChoiceField label="Kind" choices={kinds} chosen={kind} onChoose={setKind} />
      <NumberField label="Parts" unit="parts" minValue={1} maxValue={24} value={partCount} onChange={setPartCount} />
      <TextField label="Wood" value={wood} onChange={setWood} maxLength={60} />
      <NumberField
        label="Width"
        unit="mm"
        minValue={1}
        maxValue={6000}
        formatOptions={plainFigure}
        value={width}
        onChange={setWidth}
      />
      <NumberField
        label="Depth"
        unit="mm"
        minValue={1}
        maxValue={6000}
        formatOptions={plainFigure}
        value={depth}
        onChange={setDepth}
      />
      <NumberField
        label="Height"
        unit="mm"
        minValue={1}
        maxValue={6000}
        formatOptions={plainFigure}
        value={height}
        onChange={setHeight}
      />
      <RadioField
        label="Does it carry old paint?"
        note="Old paint may hold lead: while it is not known, dry sanding, heat and stripping stay locked."
        choices={[
          { id: "yes", words: "Yes" },
          { id: "no", words: "No" },
          { id: "unknown", words: "Not known" },
        ]}
        chosen={isPainted}
        onChoose={setPainted}
      />
      <NumberField
        label="Made in the year"
        unit="year"
        minValue={1500}
        maxValue={2200}
        formatOptions={plainFigure}
        note="Only with evidence. A guess leaves it empty."
        value={madeYear}
        onChange={setMadeYear}
      />
      <NumberField
        label="Estimate of work"
        unit="min"
        minValue={1}
        formatOptions={plainFigure}
        value={estimateMin}
        onChange={setEstimate}
      />
      {boards.length > 1 && (
        <ChoiceField
          label="Board"
          choices={boards.map((board) => ({ id: board.id, words: board.name }))}
          chosen={boardId}
          onChoose={setBoardId}
        />
      )}
      <Key kind="main" glove wide onPress={() => void save()}>
        Write it down
      </Key>
    </ActSheet>
  );
}
