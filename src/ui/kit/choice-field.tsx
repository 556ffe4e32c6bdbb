"use client";
import { ChevronDown } from "lucide-react";
import { Button } from "react-aria-components/Button";
import { FieldError } from "react-aria-components/FieldError";
import { Label } from "react-aria-components/Label";
import { ListBox, ListBoxItem } from "react-aria-components/ListBox";
import { Popover } from "react-aria-components/Popover";
import { Select, SelectValue } from "react-aria-components/Select";
import { Text } from "react-aria-components/Text";
import type { FieldProps } from "./field-props";

export type Choice<Id extends string> = { id: Id; words: string; detail?: string };

export type ChoiceFieldProps<Id extends string> = FieldProps & {
  choices: Choice<Id>[];
  chosen?: Id | null;
  /** For a field that the form keeps by itself. */
  firstChosen?: Id;
  onChoose?: (id: Id) => void;
  /** What stands there before a choice. */
  prompt?: string;
};

/** One of many, in a list that opens. For two to five, `RadioField` shows them all. */
export function ChoiceField<Id extends string>({ label, note, error, glove, ...field }: ChoiceFieldProps<Id>) {
  const { choices, chosen, firstChosen, onChoose, prompt = "Choose", name, isRequired } = field;
  return (
    <Select
      className="field"
      data-glove={glove || undefined}
      name={name}
      isRequired={isRequired}
      isInvalid={error !== undefined}
      validationBehavior="aria"
      placeholder={prompt}
      value={chosen}
      defaultValue={firstChosen}
      onChange={(key) => {
        const choice = choices.find(({ id }) => id === key);
        if (choice) onChoose?.(choice.id);
      }}
    >
      <Label>{label}</Label>
      <Button className="field-box field-opener">
        <SelectValue />
        <ChevronDown aria-hidden="true" size={20} />
      </Button>
      {note !== undefined && (
        <Text slot="description" className="field-note">
          {note}
        </Text>
      )}
      <FieldError className="field-error">{error}</FieldError>
      <Popover className="choice-list">
        <ListBox items={choices}>
          {({ id, words, detail }) => (
            <ListBoxItem id={id} textValue={words} className="choice">
              <Text slot="label">{words}</Text>
              {detail !== undefined && <Text slot="description">{detail}</Text>}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </Select>
  );
}
