"use client";
import { useState } from "react";
import { useDevice, useFloor } from "~/device/react";
import { ActSheet } from "~/ui/floor/acts/act-sheet";
import { Key } from "~/ui/kit/key";
import { MemberMark } from "~/ui/kit/member-mark";
import { RadioField } from "~/ui/kit/radio-field";
import { useAct } from "~/ui/shell/act";
import { handsBeside } from "./hands";
import type { WorkLine } from "./work-list";

type TakeTwoSheetProps = { line: WorkLine; memberId: string; onClose: () => void };

/** Work for two is taken with somebody; alone is possible, and the second pair of hands comes later. */
export function TakeTwoSheet({ line, memberId, onClose }: TakeTwoSheetProps) {
  const act = useAct();
  const { newId } = useDevice();
  const facts = useFloor((floor) => floor);
  const [withId, setWith] = useState("alone");
  const take = async () => {
    const memberIds = withId === "alone" ? [memberId] : [memberId, withId];
    const body = { claimId: newId(), taskId: line.task.id, memberIds };
    const kept = await act("claim-task", body, { tag: line.tag, said: `Yours: ${line.task.title}.` });
    if (kept.state === "kept") onClose();
  };
  return (
    <ActSheet title={line.task.title} tag={line.tag} onClose={onClose}>
      <RadioField
        label="It wants two. With whom?"
        glove
        chosen={withId}
        onChoose={setWith}
        choices={[
          ...handsBeside(facts, memberId).map((member) => ({
            id: member.id,
            words: member.name,
            sign: <MemberMark letter={member.markLetter} outline={member.markOutline} size="small" />,
          })),
          { id: "alone", words: "Nobody yet" },
        ]}
      />
      <Key kind="main" glove wide onPress={() => void take()}>
        Take it
      </Key>
    </ActSheet>
  );
}
