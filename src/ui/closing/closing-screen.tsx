"use client";
/** The last one out goes round: what must not be left, what is in order, and who closed up. It works without signal. */
import { useMemo, useState } from "react";
import { useDevice, useFloor, useNow, usePending } from "~/device/react";
import { isFloorHand } from "~/ui/bench/hands";
import { dayName, moment } from "~/ui/format";
import { BareBoards } from "~/ui/kit/bare-boards";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Key } from "~/ui/kit/key";
import { SpanHead } from "~/ui/kit/span-head";
import { useAct } from "~/ui/shell/act";
import { useMe } from "~/ui/shell/session-context";
import { ClosingLineHere } from "./closing-line";
import type { TodoLine } from "./closing-lines";
import { answersFrom, type Said, type SaidByKey, stanceOf } from "./closing-said";
import { type ClosingView, closingView } from "./closing-view";
import { LeaveSheet } from "./leave-sheet";
import { TodoKeys } from "./todo-keys";
import "./closing.css";

const tickMs = 15_000;

export function ClosingScreen() {
  const act = useAct();
  const { newId } = useDevice();
  const { memberId } = useMe();
  const facts = useFloor((floor) => floor);
  const waiting = usePending().waiting.length;
  const now = useNow(tickMs);
  const [said, setSaid] = useState<SaidByKey>({});
  const [asked, setAsked] = useState<TodoLine>();
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const view = useMemo(
    () => (memberId ? closingView({ facts, now, zone, memberId, said, waiting }) : undefined),
    [facts, now, zone, memberId, said, waiting],
  );
  if (!memberId || !view) return <BareBoards count={4} />;
  const say = (line: TodoLine, one: Said) => setSaid((before) => ({ ...before, [line.key]: one }));

  const close = async () => {
    const answers = answersFrom(view.open, view.said, waiting);
    const body = { closingId: newId(), answers, stance: stanceOf(answers) };
    const closed = await act("close-up", body, { said: "Closed up. Good night." });
    if (closed.state === "kept") setSaid({});
  };

  const mayClose = isFloorHand(facts.get("member", memberId));
  return (
    <div className="closing">
      <section className="closing-head" aria-live="polite">
        <h2>{headWords(view)}</h2>
        <p>{underWords(view, now, zone)}</p>
      </section>
      <div className="closing-column">
        {view.todo.length > 0 && (
          <ul className="closing-lines" aria-label="To see to">
            {view.todo.map((line) => (
              <ClosingLineHere
                key={line.key}
                line={line}
                kind="todo"
                keys={
                  mayClose && <TodoKeys line={line} onSay={(one) => say(line, one)} onAskWhy={() => setAsked(line)} />
                }
              />
            ))}
          </ul>
        )}
        {mayClose ? (
          <div className="closing-end">
            <Key
              kind={view.todo.length === 0 && !view.closed ? "main" : "plain"}
              glove
              wide
              onPress={() => void close()}
            >
              {view.closed && !view.closed.isOpenAgain ? "Close up again" : "Lights off"}
            </Key>
            <p className="why">
              This list knows only what was logged. Look round yourself: the data sheets, the local fire code and
              licensed practice go first.
            </p>
          </div>
        ) : (
          <EmptyBoard title="For those who work on the floor." sentence="They close up; you see how it stands." />
        )}
      </div>
      <div className="closing-column">
        {view.left.length > 0 && (
          <>
            <SpanHead words="Stays as it is" />
            <ul className="closing-lines">
              {view.left.map((line) => (
                <ClosingLineHere key={line.key} line={line} kind="left" />
              ))}
            </ul>
          </>
        )}
        {view.inOrder.length > 0 && (
          <>
            <SpanHead words="In order" kind="open" />
            <ul className="closing-lines">
              {view.inOrder.map((line) => (
                <ClosingLineHere key={line.key} line={line} kind="order" />
              ))}
            </ul>
          </>
        )}
      </div>
      {asked && (
        <LeaveSheet
          title={asked.title}
          onLeave={(why) => say(asked, { answer: "left", why })}
          onClose={() => setAsked(undefined)}
        />
      )}
    </div>
  );
}

const countWords = ["Nothing", "One thing", "Two things", "Three things", "Four things", "Five things", "Six things"];

function headWords({ todo, closed }: ClosingView): string {
  if (closed && !closed.isOpenAgain) return "Closed up.";
  if (todo.length === 0) return "Nothing is left. Put out the light.";
  return `${countWords[todo.length] ?? `${todo.length} things`} before the light goes off.`;
}

function underWords({ closed }: ClosingView, now: number, zone: string): string {
  if (!closed) return dayName(now, zone);
  const by = `${closed.byName} closed up, ${moment(closed.at, now, zone)}`;
  return closed.isOpenAgain ? `${by}. Since then something is open again.` : `${by}.`;
}
