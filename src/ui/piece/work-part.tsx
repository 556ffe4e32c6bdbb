"use client";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import type { Outlook } from "~/ui/floor/outlook";
import "~/ui/floor/floor.css";
import { PieceTasks } from "~/ui/floor/piece-tasks";
import { markOf } from "~/ui/floor/strip-view";
import { moment } from "~/ui/format";
import { Key, Keys } from "~/ui/kit/key";
import { FreeMark, MemberMark } from "~/ui/kit/member-mark";
import { Cautions } from "./cautions";
import { pieceCautions } from "./piece-cautions";
import { PiecePart } from "./piece-part";

type WorkPartProps = {
  outlook: Outlook;
  facts: Facts;
  now: InstantMs;
  zone: string;
  onAdd: () => void;
  onStage: () => void;
};

/** What is open and who has it, what is done, and what to be careful about in it. */
export function WorkPart({ outlook, facts, now, zone, onAdd, onStage }: WorkPartProps) {
  const done = facts
    .where("task", "pieceId", outlook.piece.id)
    .filter((task) => task.state === "finished" || task.state === "set-aside")
    .sort((one, other) => (other.finished?.at ?? 0) - (one.finished?.at ?? 0));
  return (
    <PiecePart title="Work">
      <Cautions cautions={pieceCautions(facts, outlook, now)} />
      <PieceTasks outlook={outlook} facts={facts} now={now} zone={zone} />
      {outlook.tasks.length === 0 && <p className="why">No work is open on it.</p>}
      {done.length > 0 && (
        <>
          <h3>Done</h3>
          <ul className="ruled-lines">
            {done.map((task) => {
              const by = task.finished && facts.get("member", task.finished.by);
              const when = task.finished ? `done ${moment(task.finished.at, now, zone)}` : "set aside";
              return (
                <li key={task.id}>
                  {by ? <MemberMark {...markOf(by)} /> : <FreeMark />}
                  <p>
                    {`${task.title} · ${when}`}
                    {(task.finished?.leftUndone ?? task.setAsideWhy) && (
                      <small>
                        {" "}
                        · {task.finished?.leftUndone ? `left: ${task.finished.leftUndone}` : task.setAsideWhy}
                      </small>
                    )}
                  </p>
                </li>
              );
            })}
          </ul>
        </>
      )}
      <Keys>
        <Key onPress={onAdd}>Add work</Key>
        <Key onPress={onStage}>Move the stage</Key>
      </Keys>
    </PiecePart>
  );
}
