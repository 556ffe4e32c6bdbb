"use client";
/** Mine: what does not wait, what runs, what I hold, what comes next. Everything on it works without signal. */
import dynamic from "next/dynamic";
import { useMemo, useState } from "react";
import { useFloor, useNow } from "~/device/react";
import { ClosingWay } from "~/ui/closing/closing-way";
import { BareBoards } from "~/ui/kit/bare-boards";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Key, Keys } from "~/ui/kit/key";
import { MemberMark } from "~/ui/kit/member-mark";
import { SpanHead } from "~/ui/kit/span-head";
import { useMe, useSession } from "~/ui/shell/session-context";
import { alarmsOf } from "./alarms";
import { DueAlarmHere } from "./due-alarm";
import { ForgottenTimerHere } from "./forgotten-timer";
import { isFloorHand } from "./hands";
import { LeaseQuestionHere } from "./lease-question";
import { MyClaims } from "./my-claims";
import { MyTimer } from "./my-timer";
import { NextWork, type Spare } from "./next-work";
import { workList } from "./work-list";
import "./bench.css";

const StartSheet = dynamic(() => import("./start-sheet").then((module) => module.StartSheet));
const HoursSheet = dynamic(() => import("./hours-sheet").then((module) => module.HoursSheet));

/** Alarms count whole minutes; a glance must not find one that is over still running. */
const tickMs = 5000;

type Open = { sheet: "start"; restMin?: number } | { sheet: "hours" };

export function BenchScreen() {
  const facts = useFloor((floor) => floor);
  const now = useNow(tickMs);
  const { memberId, isOnTablet } = useMe();
  const me = memberId ? facts.get("member", memberId) : undefined;
  const [spare, setSpare] = useState<Spare>("60");
  const [open, setOpen] = useState<Open>();
  const [stillWorkingOn, setStillWorkingOn] = useState<string>();
  const alarms = useMemo(() => (memberId ? alarmsOf(facts, memberId, now) : undefined), [facts, memberId, now]);
  const list = useMemo(
    () => (memberId ? workList(facts, memberId, now, spare === "any" ? undefined : Number(spare)) : undefined),
    [facts, memberId, now, spare],
  );
  if (!memberId || !me || !alarms || !list) return <BareBoards count={3} />;

  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const running = facts.running().find((entry) => entry.memberId === memberId);
  const forgotten = alarms.forgotten && alarms.forgotten.entry.id !== stillWorkingOn ? alarms.forgotten : undefined;
  return (
    <div className="bench">
      <div className="bench-first">
        {isOnTablet && <WhoseHands name={me.name} letter={me.markLetter} outline={me.markOutline} />}
        {alarms.due.map((alarm) => (
          <DueAlarmHere
            key={alarm.kind === "wipe" ? alarm.coatIds.join() : alarm.taskId}
            alarm={alarm}
            now={now}
            zone={zone}
          />
        ))}
        {alarms.leases.map((question) => (
          <LeaseQuestionHere key={question.claim.id} question={question} now={now} zone={zone} />
        ))}
        {forgotten && (
          <ForgottenTimerHere
            timer={forgotten}
            now={now}
            zone={zone}
            onStillWorking={() => setStillWorkingOn(forgotten.entry.id)}
          />
        )}
      </div>
      <div className="bench-column">
        {running && !forgotten && (
          <MyTimer
            key={running.id}
            entry={running}
            zone={zone}
            onSwitch={(restMin) => setOpen({ sheet: "start", restMin })}
          />
        )}
        <div className="bench-ways">
          <Keys lay="pair">
            {running ? (
              <Key glove href="/week">
                My week
              </Key>
            ) : (
              <Key kind="main" glove onPress={() => setOpen({ sheet: "start" })}>
                Start a timer
              </Key>
            )}
            <Key glove onPress={() => setOpen({ sheet: "hours" })}>
              Write hours
            </Key>
          </Keys>
        </div>
        {isFloorHand(me) && <ClosingWay facts={facts} now={now} zone={zone} />}
        <SpanHead words="Mine" />
        {list.mine.length === 0 ? (
          <EmptyBoard title="Nothing is yours." sentence="Take something below, and the others see that you have it." />
        ) : (
          <MyClaims lines={list.mine} memberId={memberId} />
        )}
      </div>
      <div className="bench-column">
        {isFloorHand(me) && <NextWork list={list} memberId={memberId} spare={spare} onSpare={setSpare} />}
      </div>
      {open?.sheet === "start" && (
        <StartSheet
          before={running && { entry: running, restMin: open.restMin ?? 0 }}
          onClose={() => setOpen(undefined)}
        />
      )}
      {open?.sheet === "hours" && <HoursSheet memberId={memberId} onClose={() => setOpen(undefined)} />}
    </div>
  );
}

type WhoseHandsProps = { name: string; letter: string; outline: Parameters<typeof MemberMark>[0]["outline"] };

/** On the shared tablet hours land on whoever picked themselves: it says whose hands these are. */
function WhoseHands({ name, letter, outline }: WhoseHandsProps) {
  const { pick } = useSession();
  return (
    <section className="whose-hands" aria-label="Whose hands">
      <p>
        <MemberMark letter={letter} outline={outline} size="large" />
        {name} works here
      </p>
      <Key glove onPress={() => pick(undefined)}>
        Somebody else
      </Key>
    </section>
  );
}
