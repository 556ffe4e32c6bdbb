"use client";
import { useRouter } from "next/navigation";
import { type ReactNode, useState } from "react";
import type { Result } from "~/core/result";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { type EntranceRefusal, type EntranceWords, entranceWords } from "./entrance-words";

export type EntranceFormProps = {
  /** The verb on the key: "To the floor". */
  words: string;
  /** What has to be written first, in words; nothing when all is there. */
  missing: () => string | undefined;
  send: () => Promise<Result<true, EntranceRefusal>>;
  /** Where it leads when it opened. */
  to?: string;
  children: (stopped: EntranceWords | undefined) => ReactNode;
};

/** The form of an entrance: sent once, and what stopped it is said above the key, with the field it is about marked. */
export function EntranceForm({ words, missing, send, to = "/floor", children }: EntranceFormProps) {
  const router = useRouter();
  const [stopped, setStopped] = useState<EntranceWords>();
  const [isSending, setSending] = useState(false);
  const submit = async () => {
    const found = missing();
    if (found) return setStopped({ title: "Something is missing", sentence: found });
    setSending(true);
    setStopped(undefined);
    try {
      const answer = await send();
      if (answer.ok) router.replace(to);
      else setStopped(entranceWords(answer.refusal, here()));
    } catch (error) {
      setStopped(entranceWords({ kind: "not-answered" }, here()));
      throw error;
    } finally {
      setSending(false);
    }
  };
  return (
    <form
      className="entrance-form"
      // sent before the page came to life, a password must not land in the address
      method="post"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        if (!isSending) void submit();
      }}
    >
      {children(stopped)}
      <div role="alert">
        {stopped && (
          <Notice kind="stuck" title={stopped.title}>
            {stopped.field === undefined ? stopped.sentence : "The field above says what to do."}
          </Notice>
        )}
      </div>
      <Key kind="main" type="submit" glove wide isPending={isSending}>
        {isSending ? "One moment" : words}
      </Key>
    </form>
  );
}

const here = () => ({ now: Date.now(), zone: Intl.DateTimeFormat().resolvedOptions().timeZone });
