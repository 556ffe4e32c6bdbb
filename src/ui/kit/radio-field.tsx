"use client";
import type { ReactNode } from "react";
import { FieldError } from "react-aria-components/FieldError";
import { Label } from "react-aria-components/Label";
import { Radio, RadioGroup } from "react-aria-components/RadioGroup";
import { Text } from "react-aria-components/Text";
import type { FieldProps } from "./field-props";

export type RadioChoice<Id extends string> = {
  id: Id;
  words: string;
  detail?: string;
  /** A member's mark, a glyph; the words stay. */
  sign?: ReactNode;
};

export type RadioFieldProps<Id extends string> = FieldProps & {
  choices: RadioChoice<Id>[];
  chosen?: Id | null;
  firstChosen?: Id;
  onChoose?: (id: Id) => void;
};

/** One of a few, all of them in sight. */
export function RadioField<Id extends string>({ label, note, error, glove, ...field }: RadioFieldProps<Id>) {
  const { choices, chosen, firstChosen, onChoose, name, isRequired } = field;
  return (
    <RadioGroup
      className="field"
      data-glove={glove || undefined}
      name={name}
      isRequired={isRequired}
      isInvalid={error !== undefined}
      validationBehavior="aria"
      value={chosen}
      defaultValue={firstChosen}
      onChange={(value) => {
        const choice = choices.find(({ id }) => id === value);
        if (choice) onChoose?.(choice.id);
      }}
    >
      <Label>{label}</Label>
      <div className="radios">
        {choices.map(({ id, words, detail, sign }) => (
          <Radio key={id} value={id} className="radio">
            {sign}
            <span>
              {words}
              {detail !== undefined && <small> {detail}</small>}
            </span>
          </Radio>
        ))}
      </div>
      {note !== undefined && (
        <Text slot="description" className="field-note">
          {note}
        </Text>
      )}
      <FieldError className="field-error">{error}</FieldError>
    </RadioGroup>
  );
}
