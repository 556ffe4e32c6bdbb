"use client";
import { useEffect, useState } from "react";
import { usePending } from "~/device/react";
import { Key } from "../kit/key";
import { takeBackLabel, takeBackWords } from "../wording/take-back";
import { type Head, useTakeBack } from "./act";

type TakeBackKeyProps = Head & {
  intentId: string;
  kind: string;
  /** The shop has answered, or it was never asked: what is shown beside the key may be different now. */
  onAnswered?: () => void;
};

/** Takes one's own act back; says so for as long as the shop has not answered. */
export function TakeBackKey({ intentId, kind, onAnswered, ...head }: TakeBackKeyProps) {
  const takeBack = useTakeBack();
  const { waiting } = usePending();
  const [askedBy, setAskedBy] = useState<string>();
  const isAsked = waiting.some(
    ({ intent }) => intent.kind === "take-back" && (intent.body as { intentId?: string }).intentId === intentId,
  );
  const isAnswered = askedBy !== undefined && !waiting.some(({ intent }) => intent.intentId === askedBy);
  useEffect(() => {
    if (!isAnswered) return;
    setAskedBy(undefined);
    onAnswered?.();
  }, [isAnswered, onAnswered]);
  if (isAsked) return <p role="status">{takeBackWords.waits}</p>;
  return (
    <Key
      kind="take-back"
      aria-label={takeBackLabel(kind)}
      onPress={async () => {
        const taken = await takeBack(intentId, head);
        if (taken.state === "kept") setAskedBy(taken.intent.intentId);
        if (taken.state === "withdrawn") onAnswered?.();
      }}
    >
      {takeBackWords.key}
    </Key>
  );
}
