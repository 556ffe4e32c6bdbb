"use client";
import { splitRules, workKinds } from "~/core/shop/entities/work";
import { currentRole, members } from "~/core/shop/roles";
import { bounds } from "~/core/units";
import { ChoiceField } from "../kit/choice-field";
import { MomentField } from "../kit/moment-field";
import { NumberField } from "../kit/number-field";
import { TextField } from "../kit/text-field";
import type { DraftErrors, EntryDraft } from "./entry-draft";
import { splitRuleWords, workKindWords } from "./entry-words";
import { SubjectFields } from "./subject-fields";
import { useWeek } from "./week-context";

type EntryFieldsProps = {
  draft: EntryDraft;
  onChange: (draft: EntryDraft) => void;
  errors: DraftErrors;
  isRunning?: boolean;
  isNew?: boolean;
  wordsLabel: string;
};

export function EntryFields({
  draft,
  onChange,
  errors,
  isRunning = false,
  isNew = false,
  wordsLabel,
}: EntryFieldsProps) {
  const { zone } = useWeek();
  const set = (fields: Partial<EntryDraft>) => onChange({ ...draft, ...fields });
  return (
    <>
      {isNew && <WhoseField memberId={draft.memberId} onChange={(memberId) => set({ memberId })} />}
      <MomentField label="From" zone={zone} value={draft.from} onChange={(from) => set({ from })} error={errors.from} />
      <MomentField
        label="To"
        zone={zone}
        value={draft.to}
        onChange={(to) => set({ to })}
        error={errors.to}
        note={isRunning ? "Left empty, the timer runs on." : undefined}
      />
      <NumberField
        label="Rest"
        unit="min"
        value={draft.restMin}
        onChange={(restMin) => set({ restMin })}
        minValue={bounds.restMin.min}
        maxValue={bounds.restMin.max}
        error={errors.rest}
      />
      <ChoiceField
        label="Kind of work"
        choices={workKinds.map((id) => ({ id, words: workKindWords[id] }))}
        chosen={draft.workKind}
        onChoose={(workKind) => set({ workKind })}
      />
      <SubjectFields subjects={draft.subjects} onChange={(subjects) => set({ subjects })} />
      {draft.subjects.length > 1 && (
        <ChoiceField
          label="Shared"
          choices={shareable(draft).map((id) => ({ id, words: splitRuleWords[id] }))}
          chosen={draft.splitRule === "one" ? "equal" : draft.splitRule}
          onChoose={(splitRule) => set({ splitRule })}
        />
      )}
      <TextField
        label={wordsLabel}
        value={draft.words}
        onChange={(words) => set({ words })}
        error={errors.words}
        maxLength={300}
        isRequired={!isNew}
        lines={2}
      />
    </>
  );
}

/** Typed shares can be kept where an entry has them; here nobody types new ones. */
const shareable = ({ subjects }: EntryDraft) => {
  const isWeighed = subjects.some((subject) => subject.weight !== undefined);
  return splitRules.filter((rule) => rule !== "one" && (rule !== "typed" || isWeighed));
};

/** The office writes for others too; the person is told. */
function WhoseField({ memberId, onChange }: { memberId: string; onChange: (memberId: string) => void }) {
  const { facts, maySettle } = useWeek();
  if (!maySettle) return null;
  const people = facts
    .all("member")
    .filter((member) => (members as readonly (string | undefined)[]).includes(currentRole(member)));
  return (
    <ChoiceField
      label="Whose hours"
      note="Whoever they belong to is told."
      choices={people.map(({ id, name }) => ({ id: id as string, words: name }))}
      chosen={memberId}
      onChoose={onChange}
    />
  );
}
