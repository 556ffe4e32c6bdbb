"use client";
import { transferByMethod } from "~/core/coating/spreading";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { openRooms, roomDegrees } from "../floor/room-air";
import { ChoiceField } from "../kit/choice-field";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";
import { type GunSetup, isSprayed, methodChoices } from "./gun-setup";

type GunSheetProps = {
  facts: Facts;
  gun: GunSetup;
  setGun: (gun: GunSetup) => void;
  roomId: string | undefined;
  setRoom: (roomId: string) => void;
  now: InstantMs;
  close: () => void;
};

/** How the coats are laid and where: what misses the piece has to be mixed as well, and warmth shortens a pot life. */
export function GunSheet({ facts, gun, setGun, roomId, setRoom, now, close }: GunSheetProps) {
  const set = (fields: Partial<GunSetup>) => setGun({ ...gun, ...fields });
  /** An emptied field leaves what was there. */
  const figure = (value: number, keep: (value: number) => Partial<GunSetup>) => {
    if (!Number.isNaN(value)) set(keep(value));
  };
  const { from, to } = transferByMethod[gun.method];
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="Gun and room" leaveWords="Done">
      <ChoiceField
        label="Laid with"
        glove
        choices={methodChoices}
        chosen={gun.method}
        onChoose={(method) => set({ method, transferPercent: transferByMethod[method].usual })}
        note="Kept on this device: each bench has its own."
      />
      <NumberField
        label="Stays on the piece"
        unit="%"
        glove
        minValue={1}
        maxValue={100}
        value={gun.transferPercent}
        onChange={(value) => figure(value, (transferPercent) => ({ transferPercent }))}
        note={`Usually ${from} to ${to} %; the careful end to begin with. A sheet that says “30 % loss” means 70.`}
      />
      {isSprayed(gun.method) && (
        <>
          <NumberField
            label="Cup of the gun"
            unit="ml"
            glove
            minValue={20}
            maxValue={20_000}
            value={gun.cupMillilitres}
            onChange={(value) => figure(value, (cupMillilitres) => ({ cupMillilitres: Math.round(cupMillilitres) }))}
          />
          <NumberField
            label="Nozzle"
            unit="mm"
            glove
            minValue={0.2}
            maxValue={5}
            step={0.1}
            formatOptions={{ maximumFractionDigits: 1 }}
            value={gun.nozzleMicrometres / 1000}
            onChange={(value) =>
              figure(value, (millimetres) => ({ nozzleMicrometres: Math.round(millimetres * 1000) }))
            }
          />
        </>
      )}
      <ChoiceField
        label="Room"
        glove
        chosen={roomId ?? null}
        onChoose={setRoom}
        choices={openRooms(facts)
          .filter((room) => !room.uses.includes("away"))
          .map((room) => ({ id: room.id, words: room.name, detail: roomDegrees(facts, room, now) }))}
        note="Where it is mixed: the pot life goes by its air."
      />
    </Sheet>
  );
}
