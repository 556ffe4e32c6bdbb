"use client";
import { useEffect, useState } from "react";
import { apiClient } from "../api";
import { BareBoards } from "../kit/bare-boards";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { roleWords } from "../trade-words";
import { enterAndArrive, newId } from "./arrive";
import { EntranceForm } from "./entrance-form";
import { entranceWords } from "./entrance-words";
import { arrivalOf, nobodyYet, PersonFields, personMissing } from "./person";
import { isSecretLike, useSecretInAddress } from "./secret-in-address";

type Invitation = NonNullable<Awaited<ReturnType<typeof apiClient.account.invitation.mutate>>>;
type Looked =
  | { state: "looking" }
  | { state: "open"; invitation: Invitation }
  | { state: "over" }
  | { state: "no-signal" };

/** Looking does not spend an invitation; only joining does. */
function useInvitation(secret: string | undefined): Looked {
  const [looked, setLooked] = useState<Looked>({ state: "looking" });
  useEffect(() => {
    if (secret === undefined) return;
    if (!isSecretLike(secret)) return setLooked({ state: "over" });
    let isLeft = false;
    const say = (found: Looked) => !isLeft && setLooked(found);
    apiClient.account.invitation.mutate({ secret }).then(
      (invitation) => say(invitation ? { state: "open", invitation } : { state: "over" }),
      () => say({ state: "no-signal" }),
    );
    return () => {
      isLeft = true;
    };
  }, [secret]);
  return looked;
}

export function Join() {
  const secret = useSecretInAddress();
  const looked = useInvitation(secret);
  if (secret === undefined || looked.state === "looking") return <BareBoards count={2} />;
  if (looked.state === "open") return <JoinForm secret={secret} invitation={looked.invitation} />;
  const kind = looked.state === "over" ? ("link-over" as const) : ("no-signal" as const);
  const words = entranceWords({ kind }, { now: 0, zone: "UTC" });
  return (
    <>
      <h1>Join a shop</h1>
      <Notice kind="stuck" title={words.title}>
        {words.sentence}
      </Notice>
      <Key glove wide href="/sign-in">
        I have a name here: sign in
      </Key>
    </>
  );
}

function JoinForm({ secret, invitation }: { secret: string; invitation: Invitation }) {
  const [person, setPerson] = useState(nobodyYet);
  // made once, so that a second press is the same arrival
  const [ids] = useState(() => ({ intentId: newId(), memberId: newId() }));
  return (
    <>
      <h1>{invitation.shopName}</h1>
      <p className="entrance-lead">
        You are invited as {roleWords[invitation.role]}. The owner wrote it for {invitation.forName}. You need no
        e-mail.
      </p>
      <EntranceForm
        words="Join"
        missing={() => personMissing(person)}
        send={() =>
          enterAndArrive(
            () =>
              apiClient.account.join.mutate({
                secret,
                signInName: person.signInName,
                password: person.password,
                intentId: ids.intentId,
                body: arrivalOf(person, ids.memberId),
              }),
            person,
          )
        }
      >
        {(stopped) => <PersonFields value={person} onChange={setPerson} stopped={stopped} />}
      </EntranceForm>
    </>
  );
}
