"use client";
import { useState } from "react";
import type { Room } from "~/core/shop/tables";
import { bounds, type InstantMs } from "~/core/units";
import { useDevice } from "~/device/react";
import { celsius, humidity } from "../format";
import { CheckField } from "../kit/check-field";
import { Key } from "../kit/key";
import { MomentField } from "../kit/moment-field";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";
import { typedMomentOf } from "../kit/typed-moment";
import { useAct } from "../shell/act";
import { newReading, type ReadingDraft, type ReadingErrors, readingOf } from "./reading-draft";
import { keepWritten } from "./written-here";

type ReadingSheetProps = { room: Room; now: InstantMs; zone: string; close: () => void };

/** What the thermometer on the wall shows, in the fewest taps: two figures and a key. */
export function ReadingSheet({ room, now, zone, close }: ReadingSheetProps) {
  const act = useAct();
  const device = useDevice();
  const [draft, setDraft] = useState(() => newReading(typedMomentOf(now, zone)));
  const [errors, setErrors] = useState<ReadingErrors>({});
  const set = (fields: Partial<ReadingDraft>) => setDraft((shown) => ({ ...shown, ...fields }));
  const send = async () => {
    const readingId = device.newId();
    const body = readingOf(draft, { readingId, roomId: room.id, zone });
    if (!body.ok) return setErrors(body.refusal);
    const proposed = await act("record-reading", body.value, { said: `${room.name} read.` });
    if (proposed.state === "refused") return;
    const words = `${celsius(draft.airCelsius)}, ${humidity(draft.humidityPercent)}`;
    if (proposed.state === "kept")
      keepWritten({ kind: "reading", id: readingId, roomId: room.id, words, at: device.clock.now() });
    close();
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={`Read: ${room.name}`}>
      <NumberField
        label="Air"
        unit="°C"
        value={draft.airCelsius}
        onChange={(airCelsius) => set({ airCelsius })}
        formatOptions={{ maximumFractionDigits: 1 }}
        error={errors.air}
        isRequired
        autoFocus
        glove
      />
      <NumberField
        label="Humidity"
        unit="% RH"
        value={draft.humidityPercent}
        onChange={(humidityPercent) => set({ humidityPercent })}
        minValue={bounds.humidityPercent.min}
        maxValue={bounds.humidityPercent.max}
        formatOptions={{ maximumFractionDigits: 1 }}
        error={errors.humidity}
        isRequired
        glove
      />
      <NumberField
        label="Surface of a piece, if measured"
        unit="°C"
        value={draft.surfaceCelsius}
        onChange={(surfaceCelsius) => set({ surfaceCelsius })}
        formatOptions={{ maximumFractionDigits: 1 }}
        glove
      />
      <MomentField label="Read at" zone={zone} value={draft.at} onChange={(at) => set({ at })} error={errors.at} />
      <CheckField
        label="These are the lowest air and the highest humidity since it was set back"
        note="A minimum-maximum thermometer fills the hours when nobody read."
        isChecked={draft.isSpan}
        onChange={(isSpan) => set({ isSpan })}
      />
      {draft.isSpan && (
        <MomentField
          label="Set back at"
          zone={zone}
          value={draft.spanFrom}
          onChange={(spanFrom) => set({ spanFrom })}
          error={errors.spanFrom}
          note="At most a week before."
        />
      )}
      <Key kind="main" glove wide onPress={() => void send()}>
        Write it down
      </Key>
    </Sheet>
  );
}
