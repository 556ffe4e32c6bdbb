"use client";
import { useState } from "react";
import { roomUses } from "~/core/shop/entities/places";
import type { Room } from "~/core/shop/tables";
import { bounds } from "~/core/units";
import { useDevice } from "~/device/react";
import { CheckField } from "../kit/check-field";
import { Key } from "../kit/key";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";
import { TextField } from "../kit/text-field";
import { useAct } from "../shell/act";
import { checkedRoom, newRoom, type RoomDraft, type RoomErrors, roomChanges, roomDraftOf } from "./room-draft";
import { roomUseWords } from "./room-shown";

/** Adds a room, or changes and closes the one that is given. */
export function RoomSheet({ room, close }: { room?: Room; close: () => void }) {
  const act = useAct();
  const device = useDevice();
  const [draft, setDraft] = useState(() => (room ? roomDraftOf(room) : newRoom));
  const [errors, setErrors] = useState<RoomErrors>({});
  const set = (fields: Partial<RoomDraft>) => setDraft((shown) => ({ ...shown, ...fields }));
  const send = async () => {
    const checked = checkedRoom(draft);
    if (!checked.ok) return setErrors(checked.refusal);
    if (!room) {
      const proposed = await act(
        "add-room",
        { roomId: device.newId(), ...checked.value },
        { said: `${checked.value.name} added.` },
      );
      if (proposed.state !== "refused") close();
      return;
    }
    for (const change of roomChanges(room, checked.value)) {
      const proposed = await act(
        "edit-room",
        { roomId: room.id, ...change },
        { said: `${checked.value.name} changed.` },
      );
      if (proposed.state === "refused") return;
    }
    close();
  };
  const closeRoom = async (closing: Room) => {
    const proposed = await act("close-room", { roomId: closing.id }, { said: `${closing.name} closed.` });
    if (proposed.state !== "refused") close();
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={room ? `Change: ${room.name}` : "Add a room"}>
      <TextField
        label="Name"
        value={draft.name}
        onChange={(name) => set({ name })}
        error={errors.name}
        maxLength={40}
        isRequired
      />
      <UsesField uses={draft.uses} onChange={(uses) => set({ uses })} error={errors.uses} />
      <NumberField
        label="Usual air"
        unit="°C"
        note="For planning only. No gate opens by it."
        value={draft.usualCelsius}
        onChange={(usualCelsius) => set({ usualCelsius })}
        formatOptions={{ maximumFractionDigits: 1 }}
        error={errors.usual}
      />
      <NumberField
        label="Usual humidity"
        unit="% RH"
        value={draft.usualHumidityPercent}
        onChange={(usualHumidityPercent) => set({ usualHumidityPercent })}
        minValue={bounds.humidityPercent.min}
        maxValue={bounds.humidityPercent.max}
        formatOptions={{ maximumFractionDigits: 1 }}
      />
      <NumberField
        label="May go unread for"
        unit="min"
        note="Between readings further apart than this, films earn nothing."
        value={draft.gapLimitMin}
        onChange={(gapLimitMin) => set({ gapLimitMin })}
        minValue={bounds.gapLimitMin.min}
        maxValue={bounds.gapLimitMin.max}
        error={errors.gap}
      />
      <CheckField
        label="An open flame or pilot light burns in it"
        isChecked={draft.hasOpenFlame}
        onChange={(hasOpenFlame) => set({ hasOpenFlame })}
      />
      <Key kind="main" glove wide onPress={() => void send()}>
        {room ? "Change it" : "Add it"}
      </Key>
      {room && (
        <Key kind="take-back" glove wide onPress={() => void closeRoom(room)}>
          Close the room
        </Key>
      )}
    </Sheet>
  );
}

type UsesFieldProps = { uses: Room["uses"]; onChange: (uses: Room["uses"]) => void; error?: string };

function UsesField({ uses, onChange, error }: UsesFieldProps) {
  return (
    <fieldset className="uses-field">
      <legend>What it is for</legend>
      {roomUses.map((use) => (
        <CheckField
          key={use}
          label={roomUseWords[use]}
          note={use === "away" ? "A van, an outlet, a buyer’s house: nobody reads it." : undefined}
          isChecked={uses.includes(use)}
          onChange={(isUsed) => onChange(roomUses.filter((one) => (one === use ? isUsed : uses.includes(one))))}
        />
      ))}
      {error !== undefined && <p className="field-error">{error}</p>}
    </fieldset>
  );
}
