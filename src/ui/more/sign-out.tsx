"use client";
import { useState } from "react";
import { useDevice, useFloor, usePending } from "~/device/react";
import { piecesWithUnsentNotes } from "~/device/session";
import { Key, Keys } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { listed } from "~/ui/trade-words";
import { leaveDevice } from "./leave-device";

type Step = { at: "asked"; unsentPieceIds: string[] } | { at: "leaving" } | { at: "no-signal" };

/** Leaving this device. The queue stays and goes out at the next sign-in; words in notes that were not sent would be lost. */
export function SignOut() {
  const store = useDevice();
  const facts = useFloor((floor) => floor);
  const { waiting } = usePending();
  const [step, setStep] = useState<Step>();

  const ask = async () => setStep({ at: "asked", unsentPieceIds: await piecesWithUnsentNotes() });
  const leave = async () => {
    setStep({ at: "leaving" });
    if ((await leaveDevice(store)) === "no-signal") setStep({ at: "no-signal" });
  };

  if (step?.at === "leaving") return <p role="status">Signing out.</p>;
  if (step?.at !== "asked")
    return (
      <>
        {step?.at === "no-signal" && (
          <Notice kind="device" title="No signal">
            <p>The shop’s server must hear that you leave. Nothing was taken off this device. Try again with signal.</p>
          </Notice>
        )}
        <Key glove wide onPress={() => void ask()}>
          Sign out
        </Key>
      </>
    );

  const numbers = step.unsentPieceIds.map((id) => facts.get("piece", id)?.number ?? "another piece");
  const hasUnsent = numbers.length > 0;
  return (
    <Notice
      kind={hasUnsent ? "stuck" : "plain"}
      title={hasUnsent ? `Notes of ${listed(numbers)} are not sent yet` : "Sign out of this device?"}
      keys={
        <Keys>
          <Key kind={hasUnsent ? "take-back" : "main"} glove onPress={() => void leave()}>
            {hasUnsent ? "Sign out and lose those words" : "Sign out"}
          </Key>
          <Key glove onPress={() => setStep(undefined)}>
            Stay
          </Key>
        </Keys>
      }
    >
      {hasUnsent && (
        <p>They rest on this device alone, and signing out wipes it. Stay until there is signal, and they go out.</p>
      )}
      <p>
        {waiting.length > 0
          ? `What you did and is not sent (${waiting.length}) stays here and goes out when you sign in again on this device.`
          : "The copy of the floor is taken off this device."}
      </p>
    </Notice>
  );
}
