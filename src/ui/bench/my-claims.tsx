"use client";
import { useState } from "react";
import { rowKey } from "~/device/optimistic";
import { useDevice, useFloor, usePending } from "~/device/react";
import { Key, Keys } from "~/ui/kit/key";
import { Tape } from "~/ui/kit/tape";
import { Cautions } from "~/ui/piece/cautions";
import { useAct } from "~/ui/shell/act";
import { LetGoSheet } from "./let-go-sheet";
import { WorkIcon } from "./work-icon";
import type { MyLine } from "./work-list";

type MyClaimsProps = { lines: MyLine[]; memberId: string };

/** What this member holds: the timer, the end of the work, and letting it go. */
export function MyClaims({ lines, memberId }: MyClaimsProps) {
  const act = useAct();
  const { newId } = useDevice();
  const { pendingRows } = usePending();
  const running = useFloor((facts) => facts.running().find((entry) => entry.memberId === memberId));
  const [letGo, setLetGo] = useState<MyLine>();
  const timed = new Set(running?.subjects.map((subject) => subject.taskId));

  const start = ({ task, tag }: MyLine) =>
    act(
      "start-timer",
      {
        entryId: newId(),
        subjects: task.pieceId ? [{ pieceId: task.pieceId, taskId: task.id }] : [],
        workKind: "bench",
      },
      { tag, said: "The timer runs." },
    );
  const finish = ({ task, tag }: MyLine) =>
    act("finish-task", { taskId: task.id }, { tag, said: `Finished: ${task.title}.` });

  return (
    <>
      <ul className="work-lines">
        {lines.map((line) => (
          <li key={line.claim.id}>
            <WorkIcon sort={line.task.sort} />
            <div className="work-wide">
              <b>{[line.tag, line.task.title].filter(Boolean).join(" · ")}</b>
              <small>{line.detail}</small>
              {pendingRows.has(rowKey("claim", line.claim.id)) && <Tape what="your claim" />}
            </div>
            <Cautions cautions={line.cautions} />
            <Keys>
              {timed.has(line.task.id) ? (
                <span className="state-word">on the timer</span>
              ) : (
                <Key
                  kind="main"
                  glove
                  onPress={() => void start(line)}
                  aria-label={`Start the timer: ${line.task.title}`}
                >
                  Start timer
                </Key>
              )}
              <Key glove onPress={() => void finish(line)} aria-label={`Finished: ${line.task.title}`}>
                Finished
              </Key>
              <Key kind="quiet" glove onPress={() => setLetGo(line)} aria-label={`Let go: ${line.task.title}`}>
                Let go
              </Key>
            </Keys>
          </li>
        ))}
      </ul>
      {letGo && <LetGoSheet line={letGo} memberId={memberId} onClose={() => setLetGo(undefined)} />}
    </>
  );
}
