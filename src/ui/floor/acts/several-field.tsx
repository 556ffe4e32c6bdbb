"use client";
import { CheckField } from "~/ui/kit/check-field";

export type SeveralFieldProps<Id extends string> = {
  label: string;
  choices: { id: Id; words: string; note?: string }[];
  chosen: readonly Id[];
  onChoose: (ids: Id[]) => void;
  error?: string;
};

/** Any of several: the surfaces that were coated, who was there, what the work needs. */
export function SeveralField<Id extends string>({ label, choices, chosen, onChoose, error }: SeveralFieldProps<Id>) {
  return (
    <fieldset className="field">
      <legend>{label}</legend>
      {choices.map(({ id, words, note }) => (
        <CheckField
          key={id}
          label={words}
          note={note}
          isChecked={chosen.includes(id)}
          onChange={(isChosen) =>
            onChoose(
              choices.map((choice) => choice.id).filter((other) => (other === id ? isChosen : chosen.includes(other))),
            )
          }
        />
      ))}
      {error !== undefined && <p className="field-error">{error}</p>}
    </fieldset>
  );
}
