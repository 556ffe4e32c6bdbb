"use client";
import { InstantField } from "./instant-field";
import { RadioField } from "./radio-field";
import { readMoment, type TypedMoment } from "./typed-moment";

type MomentFieldProps = {
  label: string;
  zone: string;
  value: TypedMoment;
  onChange: (value: TypedMoment) => void;
  error?: string;
  note?: string;
};

/** Day and time; in the night when the clocks go back it asks which of the two hours was meant. */
export function MomentField({ label, zone, value, onChange, error, note }: MomentFieldProps) {
  const read = readMoment(value, zone);
  return (
    <>
      <InstantField
        label={label}
        value={value}
        onChange={(wall) => onChange({ ...value, ...wall })}
        error={error}
        note={note}
        isRequired
      />
      {read.ok && read.value.isTwice && (
        <RadioField
          label="The clock showed this twice that night"
          choices={[
            { id: "first", words: "The first time" },
            { id: "second", words: "The second time" },
          ]}
          chosen={value.pass}
          onChoose={(pass) => onChange({ ...value, pass })}
        />
      )}
    </>
  );
}
