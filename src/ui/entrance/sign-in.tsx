"use client";
import { useEffect, useState } from "react";
import { apiClient } from "../api";
import { Key } from "../kit/key";
import { arrive } from "./arrive";
import { EntranceForm } from "./entrance-form";
import { emptySignIn, SignInFields, signInMissing } from "./sign-in-fields";

export function SignIn() {
  const [draft, setDraft] = useState(emptySignIn);
  const [isWaiting, setWaiting] = useState(false);
  useEffect(() => {
    apiClient.account.isFounded.query().then(
      (isFounded) => setWaiting(!isFounded),
      () => setWaiting(false), // without signal nobody signs in either
    );
  }, []);
  return (
    <>
      <h1>Sign in</h1>
      <p className="entrance-lead">With the name and password that you chose here. You need no e-mail.</p>
      <EntranceForm
        words="To the floor"
        missing={() => signInMissing(draft)}
        send={() => arrive(draft.signInName, draft.password)}
      >
        {(stopped) => <SignInFields isNew={false} value={draft} onChange={setDraft} stopped={stopped} />}
      </EntranceForm>
      <p className="entrance-lead">
        Password forgotten? Whoever runs the shop’s server can make a link for the owner; the owner invites everybody
        else anew.
      </p>
      {isWaiting && (
        <Key kind="quiet" glove href="/found">
          First start: found the shop
        </Key>
      )}
    </>
  );
}
