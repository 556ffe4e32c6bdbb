"use client";
import type { Facts } from "~/core/shop/facts";
import { SeveralField } from "~/ui/floor/acts/several-field";
import { ChoiceField } from "~/ui/kit/choice-field";
import { RadioField } from "~/ui/kit/radio-field";
import { type SplitRule, splitChoices, type WorkKind, workKindChoices } from "./work-words";

export type WorkOn = {
  workKind: WorkKind;
  pieceIds: string[];
  taskId?: string;
  splitRule: Exclude<SplitRule, "one" | "typed">;
};

export const workOnNothing: WorkOn = { workKind: "bench", pieceIds: [], splitRule: "equal" };

const noTask = "none";

/** As the rules want it: subjects, the kind of work and how it is shared out. */
export const workBody = ({ workKind, pieceIds, taskId, splitRule }: WorkOn) => ({
  workKind,
  splitRule,
  subjects: pieceIds.map((pieceId) => ({ pieceId, ...(taskId && pieceIds.length === 1 && { taskId }) })),
});

type WorkOnFieldProps = { facts: Facts; value: WorkOn; onChange: (value: WorkOn) => void };

/** On what one works: a piece, several that share the time, or the shop. */
export function WorkOnField({ facts, value, onChange }: WorkOnFieldProps) {
  const pieces = facts.all("piece").filter((piece) => piece.archivedAt === undefined);
  const tasks =
    value.pieceIds[0] && value.pieceIds.length === 1 ? facts.where("task", "pieceId", value.pieceIds[0]) : [];
  const open = tasks.filter((task) => task.sort !== "close-out" && (task.state === "open" || task.state === "held"));
  return (
    <>
      <ChoiceField
        label="What kind of work"
        glove
        choices={workKindChoices}
        chosen={value.workKind}
        onChoose={(workKind) => onChange({ ...value, workKind })}
      />
      <SeveralField
        label="On which pieces? None is work for the shop."
        chosen={value.pieceIds}
        onChoose={(pieceIds) => onChange({ ...value, pieceIds, taskId: undefined })}
        choices={pieces
          .map((piece) => ({ id: piece.id, words: `${piece.number} ${piece.name}` }))
          .sort((one, other) => one.words.localeCompare(other.words))}
      />
      {open.length > 0 && (
        <ChoiceField
          label="On which task"
          glove
          choices={[{ id: noTask, words: "None of them" }, ...open.map((task) => ({ id: task.id, words: task.title }))]}
          chosen={value.taskId ?? noTask}
          onChoose={(id) => onChange({ ...value, taskId: id === noTask ? undefined : id })}
        />
      )}
      {value.pieceIds.length > 1 && (
        <RadioField
          label="Shared out"
          glove
          choices={splitChoices}
          chosen={value.splitRule}
          onChoose={(splitRule) => onChange({ ...value, splitRule })}
        />
      )}
    </>
  );
}
