"use client";
import { useState } from "react";
import { shopDayAt } from "~/core/calendar";
import { useDevice, useFloor, useNow } from "~/device/react";
import { ActSheet } from "~/ui/floor/acts/act-sheet";
import { lastDays } from "~/ui/floor/acts/typed-when";
import { duration, moment } from "~/ui/format";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { useAct } from "~/ui/shell/act";
import { stretchTyped, type TypedStretch } from "./typed-stretch";
import { WorkOnField, workBody, workOnNothing } from "./work-on-field";

/** How many days back are offered: what a helper may write without asking. */
const daysBack = 14;

/** Hours that no timer counted: day, from, to, rest, on what. */
export function HoursSheet({ memberId, onClose }: { memberId: string; onClose: () => void }) {
  const act = useAct();
  const { newId } = useDevice();
  const now = useNow(60_000);
  const facts = useFloor((floor) => floor);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const today = shopDayAt(now, zone);
  const [typed, setTyped] = useState<TypedStretch>({ day: today, from: "", to: "", choice: "first" });
  const [restMin, setRest] = useState(0);
  const [work, setWork] = useState(workOnNothing);
  const [note, setNote] = useState("");
  const [isPressed, setPressed] = useState(false);
  const found = stretchTyped(typed, zone);
  const faultOf = (field: "from" | "to") =>
    isPressed && !found.ok && found.refusal.field === field ? found.refusal.sentence : undefined;

  const write = async () => {
    setPressed(true);
    if (!found.ok) return;
    const { startedAt, endedAt } = found.value;
    const rest = Number.isNaN(restMin) ? 0 : restMin;
    const words = note.trim() === "" ? {} : { note: note.trim() };
    const body = { entryId: newId(), memberId, startedAt, endedAt, restMin: rest, ...workBody(work), ...words };
    const kept = await act("add-entry", body, {
      said: `${duration((endedAt - startedAt) / 1000 - rest * 60)} written.`,
    });
    if (kept.state === "kept") onClose();
  };

  return (
    <ActSheet title="Write hours" onClose={onClose}>
      <ChoiceField
        label="Day"
        glove
        choices={lastDays(today, now, zone, daysBack)}
        chosen={typed.day}
        onChoose={(day) => setTyped({ ...typed, day })}
      />
      <TextField
        label="From"
        glove
        inputMode="numeric"
        maxLength={5}
        autoComplete="off"
        value={typed.from}
        onChange={(from) => setTyped({ ...typed, from })}
        note="24-hour clock, as on the shop wall."
        error={faultOf("from")}
      />
      <TextField
        label="To"
        glove
        inputMode="numeric"
        maxLength={5}
        autoComplete="off"
        value={typed.to}
        onChange={(to) => setTyped({ ...typed, to })}
        note={
          found.ok && found.value.isPastMidnight
            ? `After midnight: ${moment(found.value.endedAt, now, zone)}.`
            : undefined
        }
        error={faultOf("to")}
      />
      {found.ok && found.value.isTwice && (
        <RadioField
          label="The clock showed that time twice"
          glove
          chosen={typed.choice}
          onChoose={(choice) => setTyped({ ...typed, choice })}
          choices={[
            { id: "first", words: "The first time", detail: "before the clocks went back" },
            { id: "second", words: "The second time", detail: "after" },
          ]}
        />
      )}
      <NumberField label="Rest in it" glove unit="min" minValue={0} maxValue={480} value={restMin} onChange={setRest} />
      <WorkOnField facts={facts} value={work} onChange={setWork} />
      <TextField label="Note" glove lines={2} maxLength={300} value={note} onChange={setNote} />
      <Key kind="main" glove wide onPress={() => void write()}>
        Write them down
      </Key>
    </ActSheet>
  );
}
