"use client";
import type { InstantMs } from "~/core/units";
import { useDevice } from "~/device/react";
import { moment } from "~/ui/format";
import { Key } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { useAct } from "~/ui/shell/act";
import type { LeaseQuestion } from "./alarms";

type LeaseQuestionProps = { question: LeaseQuestion; now: InstantMs; zone: string };

/** No sign of work for a while: the holder is asked before the task is free for others. */
export function LeaseQuestionHere({ question, now, zone }: LeaseQuestionProps) {
  const act = useAct();
  const { newId } = useDevice();
  const { task, claim, tag, endsAt } = question;
  const ends = moment(endsAt, now, zone);
  const keep = { claimId: newId(), taskId: task.id, memberIds: claim.memberIds };
  return (
    <Notice
      kind="person"
      title={`Still yours? ${task.title}`}
      keys={
        <>
          <Key kind="main" glove onPress={() => void act("claim-task", keep, { tag, said: "Still yours." })}>
            Still mine
          </Key>
          <Key
            glove
            onPress={() => void act("release-task", { taskId: task.id }, { tag, said: "Free to take again." })}
          >
            Release it
          </Key>
        </>
      }
    >
      <p>
        {tag && `${tag} · `}
        {`No work on it since ${moment(claim.lastSignAt, now, zone)}. `}
        {now < endsAt ? `Others may take it from ${ends}.` : `Others may take it since ${ends}.`}
      </p>
    </Notice>
  );
}
