"use client";
import type { Facts } from "~/core/shop/facts";
import type { Task } from "~/core/shop/tables";
import { waitingFor } from "~/core/tasks/task";
import type { InstantMs } from "~/core/units";
import { useDevice } from "~/device/react";
import { moment } from "~/ui/format";
import { Key, Keys } from "~/ui/kit/key";
import { FreeMark, MemberMark } from "~/ui/kit/member-mark";
import { type ActOptions, useAct } from "~/ui/shell/act";
import { useMe } from "~/ui/shell/session-context";
import { GateSaidNo } from "./acts/gate-said-no";
import type { Outlook } from "./outlook";
import { markOf } from "./strip-view";

export type PieceTasksProps = { outlook: Outlook; facts: Facts; now: InstantMs; zone: string };

/** Who has what on a piece, and what is free: take it, start on it, finish it. */
export function PieceTasks({ outlook, facts, now, zone }: PieceTasksProps) {
  const { tasks, running } = outlook;
  return (
    <ul className="piece-tasks">
      {tasks.map((task) => (
        <TaskLine key={task.id} task={task} outlook={outlook} facts={facts} now={now} zone={zone} />
      ))}
      {running
        .filter((entry) => entry.subjects.every((subject) => subject.taskId === undefined))
        .map((entry) => {
          const member = facts.get("member", entry.memberId);
          return (
            <li key={entry.id}>
              {member ? <MemberMark {...markOf(member)} /> : <FreeMark />}
              <p>at work since {moment(entry.startedAt, now, zone)}</p>
            </li>
          );
        })}
    </ul>
  );
}

function TaskLine({ task, outlook, facts, now, zone }: PieceTasksProps & { task: Task }) {
  const { piece, claims, running } = outlook;
  const { newId } = useDevice();
  const act = useAct();
  const me = useMe();
  const claim = claims.find(({ taskId }) => taskId === task.id);
  const holder = claim?.memberIds[0] === undefined ? undefined : facts.get("member", claim.memberIds[0]);
  const timer = running.find((entry) => entry.subjects.some((subject) => subject.taskId === task.id));
  const isMine = me.memberId !== undefined && (claim?.memberIds.includes(me.memberId) ?? false);
  const head = { tag: piece.number, name: piece.name };
  const before = task.after.flatMap((id) => facts.get("task", id) ?? []);
  const waits = waitingFor(before, now);

  const words = [
    task.title,
    timer && `running since ${moment(timer.startedAt, now, zone)}`,
    waits.taskIds.length > 0 &&
      (waits.untilAt === undefined ? "something comes first" : `waits until ${moment(waits.untilAt, now, zone)}`),
    task.dueAt !== undefined && `due ${moment(task.dueAt, now, zone)}`,
    !claim && waits.taskIds.length === 0 && "free to take",
  ].filter((part) => typeof part === "string");

  const take = () =>
    act("claim-task", { claimId: newId(), taskId: task.id, memberIds: [me.memberId] }, { ...head, said: "Yours." });
  /** Work that old paint locks is refused; that it was done all the same can still be told. */
  const doneKey =
    (tell: () => unknown): ActOptions["instead"] =>
    (refusal, close) => <GateSaidNo refusal={refusal} close={close} onDone={() => void tell()} />;
  const start = (stance: "asking" | "done" = "asking"): unknown =>
    act(
      "start-timer",
      { entryId: newId(), subjects: [{ pieceId: piece.id, taskId: task.id }], workKind: "bench", stance },
      { ...head, said: "The timer runs.", instead: doneKey(() => start("done")) },
    );
  const finish = (stance: "asking" | "done" = "asking"): unknown =>
    act(
      "finish-task",
      { taskId: task.id, stance },
      { ...head, said: "Finished.", instead: doneKey(() => finish("done")) },
    );
  const putAway = (how: "flat-outdoors" | "water-can") =>
    act("close-out-rags", { taskId: task.id, how }, { ...head, said: "The rags are put away." });

  return (
    <li>
      {holder ? <MemberMark {...markOf(holder)} /> : <FreeMark />}
      <p>{words.join(" · ")}</p>
      {task.sort === "close-out" ? (
        <Keys>
          <Key onPress={() => void putAway("flat-outdoors")}>Flat outdoors, one layer</Key>
          <Key onPress={() => void putAway("water-can")}>Under water, lidded can</Key>
        </Keys>
      ) : (
        <Keys>
          {!claim && <Key onPress={() => void take()}>Take it</Key>}
          {isMine && !timer && <Key onPress={() => void start()}>Start on it</Key>}
          <Key kind={isMine ? "plain" : "quiet"} onPress={() => void finish()}>
            It is finished
          </Key>
        </Keys>
      )}
    </li>
  );
}
