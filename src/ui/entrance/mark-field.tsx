"use client";
import { markOutlines } from "~/core/shop/entities/people";
import { MemberMark, type MemberOutline } from "../kit/member-mark";
import { RadioField } from "../kit/radio-field";
import { TextField } from "../kit/text-field";

export type Mark = { letter: string; outline: MemberOutline };

/** The letter that a name starts with, until the person says another. */
export const letterOf = (name: string): string => [...name.trim()][0]?.toLocaleUpperCase() ?? "";

/** A member's mark: letter and outline tell people apart on every strip, never colour. */
export function MarkField({ value, onChange }: { value: Mark; onChange: (mark: Mark) => void }) {
  return (
    <>
      <TextField
        label="Letter of your mark"
        note="One or two letters, on everything that you have in hand."
        value={value.letter}
        onChange={(letter) => onChange({ ...value, letter })}
        maxLength={2}
        autoComplete="off"
        isRequired
      />
      <RadioField
        label="Outline of your mark"
        choices={markOutlines.map((outline) => ({
          id: outline,
          words: outline,
          sign: <MemberMark letter={value.letter || "?"} outline={outline} name={outline} />,
        }))}
        chosen={value.outline}
        onChoose={(outline) => onChange({ ...value, outline })}
      />
    </>
  );
}
