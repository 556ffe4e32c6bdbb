"use client";
import { useState } from "react";
import { apiClient } from "~/ui/api";
import { Key, Keys } from "~/ui/kit/key";
import { TextField } from "~/ui/kit/text-field";
import { forgetSignIn } from "./leave-device";

/** A new password ends every session, this one too: whoever had the old one is out. */
export function ChangePassword() {
  const [isOpen, setOpen] = useState(false);
  const [password, setPassword] = useState("");
  const [error, setError] = useState<string>();
  if (!isOpen)
    return (
      <Key glove wide onPress={() => setOpen(true)}>
        Change password
      </Key>
    );

  const change = async () => {
    if (password === "") return setError("Write the new password.");
    try {
      const answer = await apiClient.account.changePassword.mutate({ password });
      if (answer.ok) await forgetSignIn();
      else
        setError(
          "min" in answer.refusal
            ? `Use ${answer.refusal.min} characters or more. Three or four unrelated words do well.`
            : "Choose another one.",
        );
    } catch {
      setError("The shop’s server does not answer. Nothing was changed; try again with signal.");
    }
  };
  return (
    <form
      className="more-form"
      onSubmit={(event) => {
        event.preventDefault();
        void change();
      }}
    >
      <TextField
        label="New password"
        name="password"
        type="password"
        autoComplete="new-password"
        glove
        value={password}
        onChange={setPassword}
        maxLength={200}
        note="Every device that you are signed in on asks for it then, this one too."
        error={error}
      />
      <Keys>
        <Key kind="main" glove type="submit">
          Change it
        </Key>
        <Key kind="quiet" glove onPress={() => setOpen(false)}>
          Leave it
        </Key>
      </Keys>
    </form>
  );
}
