"use client";
import { stages } from "~/core/shop/entities/pieces";
import { ChoiceField } from "../kit/choice-field";
import { Key } from "../kit/key";
import { Tag } from "../kit/tag";
import { stageWords } from "../trade-words";
import type { SubjectDraft } from "./entry-draft";
import { useWeek } from "./week-context";

type SubjectFieldsProps = { subjects: readonly SubjectDraft[]; onChange: (subjects: SubjectDraft[]) => void };

/** The pieces that the time was for, each with its stage; none is time for the shop. */
export function SubjectFields({ subjects, onChange }: SubjectFieldsProps) {
  const { facts, numberOf } = useWeek();
  const named = new Set(subjects.map((subject) => subject.pieceId));
  const others = facts.all("piece").filter((piece) => !named.has(piece.id));
  const replace = (index: number, subject: SubjectDraft) => onChange(subjects.with(index, subject));
  return (
    <fieldset className="subject-fields">
      <legend>{subjects.length === 0 ? "For the shop, no piece" : "For"}</legend>
      {subjects.map((subject, index) => (
        <div key={`${subject.pieceId} ${subject.taskId ?? ""}`} className="subject-row">
          <Tag number={numberOf(subject.pieceId)} />
          <ChoiceField
            label={`Stage of ${numberOf(subject.pieceId)}`}
            choices={stages.map((id) => ({ id, words: stageWords[id] }))}
            chosen={subject.stage}
            onChoose={(stage) => replace(index, { ...subject, stage })}
          />
          <Key
            kind="quiet"
            aria-label={`Not for ${numberOf(subject.pieceId)}`}
            onPress={() => onChange(subjects.toSpliced(index, 1))}
          >
            Not this
          </Key>
        </div>
      ))}
      {others.length > 0 && (
        <ChoiceField
          // a new one after each choice, so that it asks again
          key={subjects.length}
          label={subjects.length === 0 ? "Piece" : "Another piece"}
          prompt={subjects.length === 0 ? "No piece" : "None"}
          choices={others.map(({ id, number, name }) => ({ id: id as string, words: `${number} ${name}` }))}
          onChoose={(pieceId) => {
            const piece = facts.get("piece", pieceId);
            if (piece) onChange([...subjects, { pieceId: piece.id, stage: piece.stage }]);
          }}
        />
      )}
    </fieldset>
  );
}
