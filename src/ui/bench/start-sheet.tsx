"use client";
import { useState } from "react";
import { shopDayAt } from "~/core/calendar";
import type { TimeEntry } from "~/core/shop/tables";
import { useDevice, useFloor, useNow } from "~/device/react";
import { ActSheet } from "~/ui/floor/acts/act-sheet";
import { GateSaidNo } from "~/ui/floor/acts/gate-said-no";
import { justNow, whenTyped } from "~/ui/floor/acts/typed-when";
import { WhenField } from "~/ui/floor/acts/when-field";
import { Key } from "~/ui/kit/key";
import { Cautions } from "~/ui/piece/cautions";
import { taskCautions } from "~/ui/piece/piece-cautions";
import { useAct } from "~/ui/shell/act";
import { WorkOnField, workBody, workOnNothing } from "./work-on-field";

type StartSheetProps = {
  /** The timer that the new one stops, and the rest in it. */
  before?: { entry: TimeEntry; restMin: number };
  onClose: () => void;
};

/** Starts a timer on a piece, on several, or for the shop. One that runs stops at the same moment. */
export function StartSheet({ before, onClose }: StartSheetProps) {
  const act = useAct();
  const { newId } = useDevice();
  const now = useNow(60_000);
  const facts = useFloor((floor) => floor);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const today = shopDayAt(now, zone);
  const [work, setWork] = useState(workOnNothing);
  const [when, setWhen] = useState(() => justNow(today));
  const [isPressed, setPressed] = useState(false);
  const task = work.taskId === undefined ? undefined : facts.get("task", work.taskId);

  const start = async (stance: "asking" | "done" = "asking") => {
    setPressed(true);
    const typed = whenTyped(when, now, zone);
    if (!typed.ok) return;
    const happenedAt = typed.value.at;
    if (before && before.restMin > 0) {
      // the rules stop it by themselves, but only a stop can say the rest
      const stop = await act("stop-timer", { entryId: before.entry.id, restMin: before.restMin }, { happenedAt });
      if (stop.state !== "kept") return;
    }
    const kept = await act(
      "start-timer",
      { entryId: newId(), ...workBody(work), stance },
      {
        happenedAt,
        said: "The timer runs.",
        instead: (refusal, close) => <GateSaidNo refusal={refusal} close={close} onDone={() => void start("done")} />,
      },
    );
    if (kept.state === "kept") onClose();
  };

  return (
    <ActSheet title={before ? "Switch work" : "Start a timer"} onClose={onClose}>
      <WorkOnField facts={facts} value={work} onChange={setWork} />
      {task && <Cautions cautions={taskCautions(facts, task, now)} />}
      <WhenField
        label="Since"
        when={when}
        onChange={setWhen}
        today={today}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <Key kind="main" glove wide onPress={() => void start()}>
        {before ? "Stop the other and start this" : "Start"}
      </Key>
    </ActSheet>
  );
}
