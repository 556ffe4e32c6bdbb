"use client";
import { useId } from "react";
import { ChoiceField } from "./choice-field";
import type { FieldProps } from "./field-props";
import { TextField } from "./text-field";

/** A day and a wall time as typed; the screen turns them into an instant with the shop's time zone, or words the error. */
export type WallTime = {
  /** ISO date, "2026-10-28". */
  day: string;
  /** As typed, "14:20" when whole. */
  time: string;
};

export type InstantFieldProps = Omit<FieldProps, "name"> & {
  value: WallTime;
  onChange: (value: WallTime) => void;
  /** The days that come into question, in words: "today, Wed 28 Oct". Left out, any date can be given. */
  days?: { id: string; words: string }[];
};

/** When it happened or shall happen: a typed time on the 24-hour clock, and its day. */
export function InstantField({ label, note, error, glove, isRequired, value, onChange, days }: InstantFieldProps) {
  const errorId = useId();
  const noteId = useId();
  const dayField = { label: "Day", glove, isRequired };
  return (
    <fieldset className="instant-field" aria-describedby={error === undefined ? noteId : `${errorId} ${noteId}`}>
      <legend>{label}</legend>
      <div className="instant-parts">
        <TextField
          label="Time"
          value={value.time}
          onChange={(time) => onChange({ ...value, time })}
          inputMode="numeric"
          maxLength={5}
          autoComplete="off"
          glove={glove}
          isRequired={isRequired}
        />
        {days ? (
          <ChoiceField
            {...dayField}
            choices={days}
            chosen={value.day}
            onChoose={(day) => onChange({ ...value, day })}
          />
        ) : (
          <TextField {...dayField} type="date" value={value.day} onChange={(day) => onChange({ ...value, day })} />
        )}
      </div>
      {error !== undefined && (
        <p id={errorId} className="field-error">
          {error}
        </p>
      )}
      <p id={noteId} className="field-note">
        {note ?? "24-hour clock, as on the shop wall."}
      </p>
    </fieldset>
  );
}
