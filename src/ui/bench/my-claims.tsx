"use client";
import { useState } from "react";
import { rowKey } from "~/device/optimistic";
import { useDevice, useFloor, usePending } from "~/device/react";
import { GateSaidNo } from "~/ui/floor/acts/gate-said-no";
import { Key, Keys } from "~/ui/kit/key";
import { Tape } from "~/ui/kit/tape";
import { Cautions } from "~/ui/piece/cautions";
import { type ActOptions, useAct } from "~/ui/shell/act";
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

  /** Work that old paint locks is refused; that it was done all the same can still be told. */
  const doneKey =
    (tell: () => unknown): ActOptions["instead"] =>
    (refusal, close) => <GateSaidNo refusal={refusal} close={close} onDone={() => void tell()} />;
  const start = (line: MyLine, stance: "asking" | "done" = "asking"): unknown =>
    act(
      "start-timer",
      {
        entryId: newId(),
        subjects: line.task.pieceId ? [{ pieceId: line.task.pieceId, taskId: line.task.id }] : [],
        workKind: "bench",
        stance,
      },
      { tag: line.tag, said: "The timer runs.", instead: doneKey(() => start(line, "done")) },
    );
  const finish = (line: MyLine, stance: "asking" | "done" = "asking"): unknown =>
    act(
      "finish-task",
      { taskId: line.task.id, stance },
      { tag: line.tag, said: `Finished: ${line.task.title}.`, instead: doneKey(() => finish(line, "done")) },
    );

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
