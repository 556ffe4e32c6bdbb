"use client";
import { useState } from "react";
import { shopDayAt } from "~/core/calendar";
import type { InstantMs } from "~/core/units";
import { useFloor } from "~/device/react";
import { type TypedWhen, whenTyped } from "~/ui/floor/acts/typed-when";
import { WhenField } from "~/ui/floor/acts/when-field";
import { moment } from "~/ui/format";
import { Key, Keys } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { useAct } from "~/ui/shell/act";
import type { ForgottenTimer } from "./alarms";
import { subjectsShown } from "./work-words";

type ForgottenTimerProps = { timer: ForgottenTimer; now: InstantMs; zone: string; onStillWorking: () => void };

/** A question, not a correction: two taps with the last sign, three with a typed time. Only the person knows. */
export function ForgottenTimerHere({ timer, now, zone, onStillWorking }: ForgottenTimerProps) {
  const act = useAct();
  const facts = useFloor((floor) => floor);
  const { entry, suggestedEndAt } = timer;
  const { tag, what } = subjectsShown(facts, entry);
  const [isTyping, setTyping] = useState(false);
  const stop = (happenedAt?: InstantMs) =>
    act("stop-timer", { entryId: entry.id }, { happenedAt, tag, said: "Stopped." });
  return (
    <Notice kind="person" title={`Still running since ${moment(entry.startedAt, now, zone)}. When did you stop?`}>
      <p>{[tag, what].filter(Boolean).join(" · ")}</p>
      <Keys>
        {suggestedEndAt !== undefined && (
          <Key kind="main" glove onPress={() => void stop(suggestedEndAt)}>
            At {moment(suggestedEndAt, now, zone)}, my last sign
          </Key>
        )}
        <Key glove onPress={() => setTyping(!isTyping)}>
          Another time
        </Key>
        <Key kind="quiet" glove onPress={onStillWorking}>
          I am still at it
        </Key>
      </Keys>
      {isTyping && (
        <StopTime firstAt={suggestedEndAt ?? entry.startedAt} now={now} zone={zone} onStop={(at) => void stop(at)} />
      )}
    </Notice>
  );
}

type StopTimeProps = { firstAt: InstantMs; now: InstantMs; zone: string; onStop: (at: InstantMs | undefined) => void };

/** The time on the wall when work stopped. */
export function StopTime({ firstAt, now, zone, onStop }: StopTimeProps) {
  const [when, setWhen] = useState<TypedWhen>({
    isEarlier: true,
    wall: { day: shopDayAt(firstAt, zone), time: "" },
    choice: "first",
  });
  const [isPressed, setPressed] = useState(false);
  const stopThen = () => {
    setPressed(true);
    const typed = whenTyped(when, now, zone);
    if (typed.ok) onStop(typed.value.at);
  };
  return (
    <>
      <WhenField
        label="When did you stop"
        when={when}
        onChange={setWhen}
        today={shopDayAt(now, zone)}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <Key kind="main" glove wide onPress={stopThen}>
        Stopped then
      </Key>
    </>
  );
}
