"use client";
import { TextField } from "../kit/text-field";
import type { EntranceWords } from "./entrance-words";
import { letterOf, type Mark, MarkField } from "./mark-field";
import { emptySignIn, newSignInMissing, type SignInDraft, SignInFields } from "./sign-in-fields";

/** Who comes in: name, mark, and how they sign in from now on. */
export type Person = SignInDraft & { name: string; mark: Mark };

export const nobodyYet: Person = { ...emptySignIn, name: "", mark: { letter: "", outline: "disc" } };

type PersonFieldsProps = { value: Person; onChange: (value: Person) => void; stopped?: EntranceWords };

export function PersonFields({ value, onChange, stopped }: PersonFieldsProps) {
  const rename = (name: string) => {
    const follows = value.mark.letter === letterOf(value.name);
    onChange({ ...value, name, mark: follows ? { ...value.mark, letter: letterOf(name) } : value.mark });
  };
  return (
    <>
      <TextField
        label="Your name"
        name="name"
        autoComplete="name"
        note="As the others call you."
        value={value.name}
        onChange={rename}
        maxLength={60}
        isRequired
        glove
      />
      <MarkField value={value.mark} onChange={(mark) => onChange({ ...value, mark })} />
      <SignInFields
        isNew
        value={value}
        onChange={({ signInName, password }) => onChange({ ...value, signInName, password })}
        stopped={stopped}
      />
    </>
  );
}

export function personMissing(person: Person): string | undefined {
  if (person.name.trim() === "") return "Write your name.";
  if (person.mark.letter.trim() === "") return "Give your mark a letter.";
  return newSignInMissing(person);
}

/** The person as the rules of an entrance take them. */
export const arrivalOf = ({ name, mark }: Person, memberId: string) => ({
  memberId,
  memberName: name,
  markLetter: mark.letter,
  markOutline: mark.outline,
});
