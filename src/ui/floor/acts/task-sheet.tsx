"use client";
import { useState } from "react";
import type { skills } from "~/core/shop/entities/people";
import { type Method, methods } from "~/core/shop/entities/pieces";
import type { taskSorts } from "~/core/shop/entities/work";
import { CheckField } from "~/ui/kit/check-field";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { methodWords } from "~/ui/trade-words";
import { ActSheet, type PieceSheetProps } from "./act-sheet";
import { usePieceAct } from "./piece-act";
import { SeveralField } from "./several-field";

type Skill = (typeof skills)[number];
type Sort = Exclude<(typeof taskSorts)[number], "close-out">;

const sorts: { id: Sort; words: string }[] = [
  { id: "repair", words: "Repair" },
  { id: "prep", words: "Prep" },
  { id: "inspect", words: "Inspect" },
  { id: "carry", words: "Carry" },
  { id: "other", words: "Something else" },
];
const skillsAsked: { id: Skill; words: string }[] = [
  { id: "spray", words: "Spraying" },
  { id: "brush", words: "Brushing" },
  { id: "glue", words: "Gluing" },
  { id: "veneer", words: "Veneering" },
  { id: "strip", words: "Stripping" },
  { id: "drive", words: "Driving" },
  { id: "lift", words: "Lifting" },
];
const noTask = "none";

/** Work that somebody shall take: what, with which method, after what. A title is enough. */
export function TaskSheet({ pieceId, onClose }: PieceSheetProps) {
  const { facts, piece, newId, head, send } = usePieceAct(pieceId);
  const [title, setTitle] = useState("");
  const [sort, setSort] = useState<Sort>(piece?.stage === "repair" || piece?.stage === "prep" ? piece.stage : "other");
  const [methodsUsed, setMethods] = useState<Method[]>([]);
  const [needsSkills, setSkills] = useState<Skill[]>([]);
  const [isForTwo, setForTwo] = useState(false);
  const [estimateMin, setEstimate] = useState(Number.NaN);
  const [afterId, setAfterId] = useState(noTask);
  const [isPressed, setPressed] = useState(false);
  if (!piece) return null;
  const open = facts.where("task", "pieceId", pieceId).filter((task) => task.state === "open" || task.state === "held");

  const add = async () => {
    setPressed(true);
    if (title.trim() === "") return;
    const body = {
      taskId: newId(),
      pieceId,
      title,
      sort,
      methods: methodsUsed,
      needsSkills,
      needsMembers: isForTwo ? 2 : 1,
      ...(!Number.isNaN(estimateMin) && { estimateMin }),
      after: afterId === noTask ? [] : [afterId],
    };
    if (await send("add-task", body, { said: "On the board, free to take." })) onClose();
  };

  return (
    <ActSheet title="Add work" {...head} onClose={onClose}>
      <TextField
        label="What is to be done"
        glove
        value={title}
        onChange={setTitle}
        maxLength={120}
        error={isPressed && title.trim() === "" ? "Say what is to be done." : undefined}
      />
      <RadioField label="Sort" glove chosen={sort} onChoose={setSort} choices={sorts} />
      <SeveralField
        label="Methods"
        chosen={methodsUsed}
        onChoose={setMethods}
        choices={methods.map((id) => ({ id, words: methodWords[id] }))}
      />
      <SeveralField label="It needs a hand for" chosen={needsSkills} onChoose={setSkills} choices={skillsAsked} />
      <CheckField label="It needs two people" isChecked={isForTwo} onChange={setForTwo} />
      <NumberField label="About how long" unit="min" glove minValue={1} value={estimateMin} onChange={setEstimate} />
      {open.length > 0 && (
        <ChoiceField
          label="After"
          glove
          chosen={afterId}
          onChoose={setAfterId}
          choices={[
            { id: noTask, words: "Nothing comes first" },
            ...open.map((task) => ({ id: task.id, words: task.title })),
          ]}
        />
      )}
      <Key kind="main" glove wide onPress={() => void add()}>
        Add it
      </Key>
    </ActSheet>
  );
}
