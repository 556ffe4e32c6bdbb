"use client";
import { Lock } from "lucide-react";
import { useState } from "react";
import { useDevice } from "~/device/react";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Key } from "~/ui/kit/key";
import { Picks } from "~/ui/kit/picks";
import { SpanHead } from "~/ui/kit/span-head";
import { Cautions } from "~/ui/piece/cautions";
import { useAct } from "~/ui/shell/act";
import { TakeTwoSheet } from "./take-two-sheet";
import { WorkIcon } from "./work-icon";
import type { WorkLine, WorkList } from "./work-list";

/** How much time a person has: the tasks shown take no longer. */
export const sparePicks = [
  { id: "15", words: "15 min" },
  { id: "60", words: "1 h" },
  { id: "180", words: "3 h" },
  { id: "any", words: "a day" },
] as const;
export type Spare = (typeof sparePicks)[number]["id"];

type NextWorkProps = { list: WorkList; memberId: string; spare: Spare; onSpare: (spare: Spare) => void };

export function NextWork({ list, memberId, spare, onSpare }: NextWorkProps) {
  const act = useAct();
  const { newId } = useDevice();
  const [forTwo, setForTwo] = useState<WorkLine>();
  const take = (line: WorkLine) =>
    line.task.needsMembers > 1
      ? setForTwo(line)
      : void act(
          "claim-task",
          { claimId: newId(), taskId: line.task.id, memberIds: [memberId] },
          { tag: line.tag, said: `Yours: ${line.task.title}.` },
        );
  return (
    <>
      <SpanHead words="Next, if I have" />
      <Picks label="How much time" picks={[...sparePicks]} chosen={spare} onChoose={onSpare} />
      {list.next.length + list.locked.length === 0 && (
        <EmptyBoard title="Nothing is free to take." sentence="Tasks are added on the piece’s strip on the floor." />
      )}
      <ul className="work-lines">
        {list.next.map((line) => (
          <li key={line.task.id}>
            <WorkIcon sort={line.task.sort} />
            <div>
              <b>{[line.tag, line.task.title].filter(Boolean).join(" · ")}</b>
              <small>{line.detail}</small>
            </div>
            <Key glove onPress={() => take(line)} aria-label={`Take: ${line.task.title}`}>
              Take
            </Key>
            <Cautions cautions={line.cautions} />
          </li>
        ))}
        {list.locked.map((line) => (
          <li key={line.task.id} data-locked>
            <Lock aria-hidden="true" size={24} />
            <div>
              <b>{[line.tag, line.task.title].filter(Boolean).join(" · ")}</b>
              <small>{line.why}</small>
            </div>
          </li>
        ))}
      </ul>
      {forTwo && <TakeTwoSheet line={forTwo} memberId={memberId} onClose={() => setForTwo(undefined)} />}
    </>
  );
}
