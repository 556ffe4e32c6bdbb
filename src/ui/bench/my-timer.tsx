"use client";
import { Square } from "lucide-react";
import { useState } from "react";
import type { TimeEntry } from "~/core/shop/tables";
import { secondMs } from "~/core/units";
import { rowKey } from "~/device/optimistic";
import { useFloor, useNow, usePending } from "~/device/react";
import { moment } from "~/ui/format";
import { Key, Keys } from "~/ui/kit/key";
import { Picks } from "~/ui/kit/picks";
import { Tape } from "~/ui/kit/tape";
import { Timer } from "~/ui/kit/timer";
import { useAct } from "~/ui/shell/act";
import { StopTime } from "./forgotten-timer";
import { subjectsShown } from "./work-words";

const rests = ["0", "15", "30", "45", "60"] as const;
type Rest = (typeof rests)[number];

/** A rest is shorter than the work that it was in. */
const restPicks = (elapsedSeconds: number) =>
  rests
    .filter((id) => id === "0" || Number(id) * 60 < elapsedSeconds)
    .map((id) => ({ id, words: id === "0" ? "none" : `${id} min` }));

type MyTimerProps = { entry: TimeEntry; zone: string; onSwitch: (restMin: number) => void };

/** One tap stops it. A rest is chosen before that, or not at all. */
export function MyTimer({ entry, zone, onSwitch }: MyTimerProps) {
  const act = useAct();
  const facts = useFloor((floor) => floor);
  const { pendingRows } = usePending();
  const now = useNow(secondMs);
  const [rest, setRest] = useState<Rest>("0");
  const [isEarlier, setEarlier] = useState(false);
  const { tag, href, what } = subjectsShown(facts, entry);
  const restMin = Number(rest);
  const seconds = Math.max(0, Math.floor((now - entry.startedAt) / secondMs));
  const picks = restPicks(seconds);
  const stop = (happenedAt?: number) =>
    act("stop-timer", { entryId: entry.id, ...(restMin > 0 && { restMin }) }, { happenedAt, tag, said: "Stopped." });
  return (
    <Timer
      title="Running"
      seconds={seconds}
      tag={tag}
      href={href}
      what={what}
      since={moment(entry.startedAt, now, zone)}
    >
      {pendingRows.has(rowKey("entry", entry.id)) && <Tape what="your timer" />}
      {picks.length > 1 && (
        <>
          <p className="why">Rest in it</p>
          <Picks label="Rest in it" picks={picks} chosen={rest} onChoose={setRest} />
        </>
      )}
      <Keys lay="pair">
        <Key kind="main" glove icon={<Square aria-hidden="true" fill="currentColor" />} onPress={() => void stop()}>
          Stop
        </Key>
        <Key glove onPress={() => onSwitch(restMin)}>
          Switch work
        </Key>
      </Keys>
      <Key kind="quiet" glove onPress={() => setEarlier(!isEarlier)}>
        I stopped earlier
      </Key>
      {isEarlier && <StopTime firstAt={now} now={now} zone={zone} onStop={(at) => void stop(at)} />}
    </Timer>
  );
}
