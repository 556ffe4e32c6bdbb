"use client";
import { TextField } from "../kit/text-field";
import type { EntranceWords } from "./entrance-words";

export type SignInDraft = { signInName: string; password: string };

export const emptySignIn: SignInDraft = { signInName: "", password: "" };

/** Length is what makes a password hard to guess; the server counts again. */
export const shortestPassword = 10;

type SignInFieldsProps = {
  value: SignInDraft;
  onChange: (value: SignInDraft) => void;
  stopped?: EntranceWords;
  /** Made now, or typed again. */
  isNew: boolean;
};

export function SignInFields({ value, onChange, stopped, isNew }: SignInFieldsProps) {
  const errorOf = (field: EntranceWords["field"]) => (stopped?.field === field ? stopped?.sentence : undefined);
  return (
    <>
      <TextField
        label="Sign-in name"
        name="username"
        autoComplete="username"
        note={isNew ? "A short word for signing in. No e-mail is needed." : undefined}
        value={value.signInName}
        onChange={(signInName) => onChange({ ...value, signInName })}
        error={errorOf("signInName")}
        maxLength={60}
        isRequired
        glove
      />
      <TextField
        label="Password"
        name="password"
        type="password"
        autoComplete={isNew ? "new-password" : "current-password"}
        note={
          isNew
            ? `${shortestPassword} characters or more. A few unrelated words are easy to type in gloves.`
            : undefined
        }
        value={value.password}
        onChange={(password) => onChange({ ...value, password })}
        error={errorOf("password")}
        maxLength={200}
        isRequired
        glove
      />
    </>
  );
}

/** What is missing for signing in. */
export function signInMissing({ signInName, password }: SignInDraft): string | undefined {
  if (signInName.trim() === "") return "Write the name that you sign in with.";
  return password === "" ? "Write your password." : undefined;
}

/** The same where the password is made now. */
export function newSignInMissing(draft: SignInDraft): string | undefined {
  const missing = signInMissing(draft);
  if (missing) return missing;
  return [...draft.password].length < shortestPassword
    ? `The password needs ${shortestPassword} characters or more.`
    : undefined;
}
