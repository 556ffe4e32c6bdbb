"use client";
import { ChoiceField } from "../kit/choice-field";
import { chosenPot, type PotChoice } from "./pot-choices";

type PotFieldProps = { choices: readonly PotChoice[]; chosen: string | undefined; onChoose: (id: string) => void };

/** Out of which mix or can a coat came: its pot life and its age decide about the film. */
export function PotField({ choices, chosen, onChoose }: PotFieldProps) {
  if (choices.length < 2) return null;
  return (
    <ChoiceField
      label="Out of"
      glove
      choices={choices.map(({ id, words, detail }) => ({ id, words, detail }))}
      chosen={chosenPot(choices, chosen)?.id ?? null}
      onChoose={onChoose}
      note="A mix past its pot life or a can past its shelf life is refused."
    />
  );
}
