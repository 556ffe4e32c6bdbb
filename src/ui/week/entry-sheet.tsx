"use client";
import { useState } from "react";
import { shopDayAt } from "~/core/calendar";
import type { TimeEntry } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { useDevice } from "~/device/react";
import { Key } from "../kit/key";
import { Sheet } from "../kit/sheet";
import { WhySheet } from "../kit/why-sheet";
import { useAct } from "../shell/act";
import { useMe } from "../shell/session-context";
import { correctionOf, type DraftErrors, draftOf, newDraft, typedEntryOf } from "./entry-draft";
import { EntryFields } from "./entry-fields";
import { entryTimes, entryVersions } from "./entry-words";
import { type OpenedEntry, useWeek } from "./week-context";

type EntrySheetProps = { opened: OpenedEntry | { act: "write" }; close: () => void };

/** Whatever an entry was opened for. */
export function EntrySheet({ opened, close }: EntrySheetProps) {
  const { entryById } = useWeek();
  if (opened.act === "write") return <WriteSheet close={close} />;
  const entry = entryById.get(opened.entryId);
  if (!entry) return null;
  if (opened.act === "correct")
    return <CorrectSheet entry={entry} suggestedEndAt={opened.suggestedEndAt} close={close} />;
  return <WordSheet act={opened.act} entry={entry} close={close} />;
}

function CorrectSheet({
  entry,
  suggestedEndAt,
  close,
}: {
  entry: TimeEntry;
  suggestedEndAt?: InstantMs;
  close: () => void;
}) {
  const act = useAct();
  const { zone, numberOf, member } = useWeek();
  const [draft, setDraft] = useState(() => draftOf(entry, zone, suggestedEndAt));
  const [errors, setErrors] = useState<DraftErrors>({});
  const [first] = entryVersions(entry, zone);
  const tag = entry.subjects[0] && numberOf(entry.subjects[0].pieceId);
  const send = async () => {
    const body = correctionOf(entry, draft, zone);
    if (!body.ok) return setErrors(body.refusal);
    const proposed = await act("correct-entry", body.value, { tag, said: "Corrected. What it was stays under it." });
    if (proposed.state !== "refused") close();
  };
  return (
    <Sheet
      isOpen
      onOpenChange={(isOpen) => !isOpen && close()}
      title="Correct the entry"
      tag={tag}
      name={member(entry.memberId)?.name}
    >
      {first && <p>First written: {first.times}. It stays in the file whatever you change.</p>}
      <EntryFields
        draft={draft}
        onChange={setDraft}
        errors={errors}
        isRunning={entry.endedAt === undefined}
        wordsLabel="Why"
      />
      <Key kind="main" glove wide onPress={() => void send()}>
        Correct it
      </Key>
    </Sheet>
  );
}

function WriteSheet({ close }: { close: () => void }) {
  const act = useAct();
  const device = useDevice();
  const me = useMe();
  const { answer, now, zone } = useWeek();
  const { week } = answer;
  const [draft, setDraft] = useState(() => {
    const isThisWeek = now >= week.fromAt && now < week.toAt;
    return newDraft(me.memberId ?? "", isThisWeek ? shopDayAt(now, zone) : week.startsOn);
  });
  const [errors, setErrors] = useState<DraftErrors>({});
  const send = async () => {
    const body = typedEntryOf(draft, device.newId(), zone);
    if (!body.ok) return setErrors(body.refusal);
    const proposed = await act("add-entry", body.value, { said: "Written down." });
    if (proposed.state !== "refused") close();
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="Type hours">
      <EntryFields draft={draft} onChange={setDraft} errors={errors} wordsLabel="Note" isNew />
      <Key kind="main" glove wide onPress={() => void send()}>
        Write it down
      </Key>
    </Sheet>
  );
}

function WordSheet({ act: word, entry, close }: { act: "confirm" | "strike"; entry: TimeEntry; close: () => void }) {
  const act = useAct();
  const { now, zone, member } = useWeek();
  const times = `${member(entry.memberId)?.name ?? "Somebody"}, ${entryTimes(entry, now, zone)}`;
  const send = (why: string) =>
    void act(
      "correct-entry",
      { entryId: entry.id, why, ...(word === "confirm" ? { isConfirmed: true } : { isStruck: true }) },
      { said: word === "confirm" ? "Counted." : "Struck. The entry stays readable." },
    );
  return word === "confirm" ? (
    <WhySheet title="Count these hours" words="Count it" close={close} onSay={send}>
      {times}. It counts from now on as it stands.
    </WhySheet>
  ) : (
    <WhySheet title="Strike the entry" words="Strike it" keyKind="take-back" close={close} onSay={send}>
      {times}. It no longer counts. Whoever worked it is told.
    </WhySheet>
  );
}
