"use client";
import { useEffect, useState } from "react";
import { accept, refuse } from "~/core/result";
import { apiClient } from "../api";
import { BareBoards } from "../kit/bare-boards";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { TextField } from "../kit/text-field";
import { EntranceForm } from "./entrance-form";
import { entranceWords } from "./entrance-words";
import { isSecretLike, useSecretInAddress } from "./secret-in-address";
import { shortestPassword } from "./sign-in-fields";

type Looked = "looking" | "open" | "link-over" | "no-signal";

function useLink(secret: string | undefined): Looked {
  const [looked, setLooked] = useState<Looked>("looking");
  useEffect(() => {
    if (secret === undefined) return;
    if (!isSecretLike(secret)) return setLooked("link-over");
    apiClient.account.isResetOpen.mutate({ secret }).then(
      (isOpen) => setLooked(isOpen ? "open" : "link-over"),
      () => setLooked("no-signal"),
    );
  }, [secret]);
  return looked;
}

export function ResetPassword() {
  const secret = useSecretInAddress();
  const looked = useLink(secret);
  const [password, setPassword] = useState("");
  if (secret === undefined || looked === "looking") return <BareBoards count={1} />;
  if (looked !== "open") {
    const words = entranceWords({ kind: looked }, { now: 0, zone: "UTC" });
    return (
      <>
        <h1>A new password</h1>
        <Notice kind="stuck" title={words.title}>
          {words.sentence}
        </Notice>
        <Key glove wide href="/sign-in">
          Sign in
        </Key>
      </>
    );
  }
  return (
    <>
      <h1>A new password</h1>
      <p className="entrance-lead">Every device that was signed in with the old one is signed out.</p>
      <EntranceForm
        words="Set it"
        to="/sign-in"
        missing={() =>
          [...password].length < shortestPassword
            ? `The password needs ${shortestPassword} characters or more.`
            : undefined
        }
        send={async () => {
          const answer = await apiClient.account.reset.mutate({ secret, password });
          return answer.ok ? accept(true) : refuse(answer.refusal);
        }}
      >
        {(stopped) => (
          <TextField
            label="New password"
            name="password"
            type="password"
            autoComplete="new-password"
            note={`${shortestPassword} characters or more.`}
            value={password}
            onChange={setPassword}
            error={stopped?.field === "password" ? stopped.sentence : undefined}
            maxLength={200}
            isRequired
            glove
          />
        )}
      </EntranceForm>
    </>
  );
}
