"use client";
import { useState } from "react";
import { useDevice, useFloor } from "~/device/react";
import { ActSheet } from "~/ui/floor/acts/act-sheet";
import { Key } from "~/ui/kit/key";
import { MemberMark } from "~/ui/kit/member-mark";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { useAct } from "~/ui/shell/act";
import { handsBeside } from "./hands";
import type { MyLine } from "./work-list";

type Way = "release" | "hand-over" | "left-undone";
const ways: { id: Way; words: string; detail: string }[] = [
  { id: "release", words: "Release it", detail: "free for anybody" },
  { id: "hand-over", words: "Hand it over", detail: "to one person, by name" },
  { id: "left-undone", words: "Finished, but something is left", detail: "say what" },
];
const keyWords: Record<Way, string> = {
  release: "Release it",
  "hand-over": "Hand it over",
  "left-undone": "Finished but for this",
};

type LetGoSheetProps = { line: Pick<MyLine, "task" | "tag">; memberId: string; onClose: () => void };

/** A claim ends without its work being done, or with something left: never without a word to whoever comes next. */
export function LetGoSheet({ line, memberId, onClose }: LetGoSheetProps) {
  const act = useAct();
  const { newId } = useDevice();
  const facts = useFloor((floor) => floor);
  const [way, setWay] = useState<Way>("release");
  const [toMemberId, setTo] = useState<string>();
  const [note, setNote] = useState("");
  const [isPressed, setPressed] = useState(false);
  const people = handsBeside(facts, memberId);
  const { task, tag } = line;
  const words = note.trim() === "" ? undefined : note.trim();

  const letGo = async () => {
    setPressed(true);
    if ((way === "hand-over" && !toMemberId) || (way === "left-undone" && !words)) return;
    const kept =
      way === "release"
        ? await act("release-task", { taskId: task.id, note: words }, { tag, said: "Free to take again." })
        : way === "hand-over"
          ? await act(
              "hand-over-claim",
              { taskId: task.id, claimId: newId(), toMemberId, note: words },
              { tag, said: "Handed over." },
            )
          : await act("finish-task", { taskId: task.id, leftUndone: words }, { tag, said: `Finished: ${task.title}.` });
    if (kept.state === "kept") onClose();
  };

  return (
    <ActSheet title={task.title} tag={tag} onClose={onClose}>
      <RadioField label="How it goes on" glove chosen={way} onChoose={setWay} choices={ways} />
      {way === "hand-over" && (
        <RadioField
          label="To whom"
          glove
          chosen={toMemberId ?? null}
          onChoose={setTo}
          choices={people.map((member) => ({
            id: member.id,
            words: member.name,
            sign: <MemberMark letter={member.markLetter} outline={member.markOutline} size="small" />,
          }))}
          note={people.length === 0 ? "Nobody else works on this floor yet." : undefined}
          error={isPressed && !toMemberId ? "Choose who takes it." : undefined}
        />
      )}
      <TextField
        label={way === "left-undone" ? "What is left" : "A word for whoever comes next"}
        glove
        lines={2}
        maxLength={300}
        value={note}
        onChange={setNote}
        error={isPressed && way === "left-undone" && !words ? "Say what is left." : undefined}
      />
      <Key kind="main" glove wide onPress={() => void letGo()}>
        {keyWords[way]}
      </Key>
    </ActSheet>
  );
}
