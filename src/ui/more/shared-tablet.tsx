"use client";
import { useState } from "react";
import { apiClient } from "~/ui/api";
import { Key, Keys } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { useSession } from "~/ui/shell/session-context";

/** On the tablet: change hands. On somebody's own device: turn it into the tablet. */
export function SharedTablet() {
  const { session, pick } = useSession();
  return session.isSharedTablet ? (
    <Key kind="main" glove wide onPress={() => pick(undefined)}>
      Somebody else is here
    </Key>
  ) : (
    <MakeShared />
  );
}

function MakeShared() {
  const { pick } = useSession();
  const [isAsking, setAsking] = useState(false);
  const [hasFailed, setFailed] = useState(false);
  const share = async () => {
    try {
      await apiClient.account.shareTablet.mutate();
      // it begins by asking whose hands these are, and not with whoever turned it into the tablet
      pick(undefined);
      location.reload();
    } catch {
      setFailed(true);
    }
  };
  if (!isAsking)
    return (
      <Key glove wide onPress={() => setAsking(true)}>
        Make this the shared tablet
      </Key>
    );
  return (
    <Notice
      kind="person"
      title="Everybody picks themselves on it"
      keys={
        <Keys>
          <Key kind="main" glove onPress={() => void share()}>
            Share it
          </Key>
          <Key kind="quiet" glove onPress={() => setAsking(false)}>
            Leave it
          </Key>
        </Keys>
      }
    >
      <p>
        You are no longer signed in as yourself here. It takes reports and claims from whoever works in front of it,
        nothing of the office.
      </p>
      {hasFailed && <p role="alert">The shop’s server does not answer. Nothing was changed; try again with signal.</p>}
    </Notice>
  );
}
