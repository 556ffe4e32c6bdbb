"use client";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { roomAirs } from "../floor/room-air";
import { Board } from "../kit/board";
import { Key, Keys } from "../kit/key";
import { area, percent } from "./amount-words";
import { type GunSetup, isSprayed, methodWords } from "./gun-setup";
import type { MixingAct } from "./mixing-sheets";
import type { PlannedCoat } from "./planned-coats";

/** "HVLP gun, 55 % stays on the piece; cup 600 ml, nozzle 1.4 mm" */
export const gunWords = (gun: GunSetup): string => {
  const start = `${methodWords[gun.method]}, ${percent(gun.transferPercent)} stays on the piece`;
  return isSprayed(gun.method)
    ? `${start}; cup ${gun.cupMillilitres} ml, nozzle ${gun.nozzleMicrometres / 1000} mm`
    : start;
};

/** "6 coats on 3 pieces, 7.4 m²" */
export const coatsWords = (coats: readonly PlannedCoat[]): string => {
  const pieces = new Set(coats.map(({ piece }) => piece.id)).size;
  const squareMetres = coats.reduce((sum, { surface }) => sum + surface.squareDecimetres / 100, 0);
  const counted = (count: number, word: string) => `${count} ${word}${count === 1 ? "" : "s"}`;
  return coats.length === 0
    ? "No coat chosen"
    : `${counted(coats.length, "coat")} on ${counted(pieces, "piece")}, ${area(squareMetres)}`;
};

export const roomWords = (facts: Facts, roomId: string | undefined, now: InstantMs, zone: string): string => {
  const room = roomAirs(facts, now, zone).find(({ id }) => id === roomId);
  if (!room) return "No room";
  return `${room.name}, ${room.air}${room.readAt === undefined ? "" : `, read ${room.readAt}`}`;
};

type MixingHeadProps = {
  facts: Facts;
  coats: readonly PlannedCoat[];
  gun: GunSetup;
  roomId: string | undefined;
  now: InstantMs;
  zone: string;
  hasPlanned: boolean;
  open: (act: MixingAct) => void;
};

/** For what, with what and where: three lines, and the keys that change them. */
export function MixingHead({ facts, coats, gun, roomId, now, zone, hasPlanned, open }: MixingHeadProps) {
  return (
    <Board title="What to mix for">
      <dl className="facts">
        <div>
          <dt>Coats</dt>
          <dd>{coatsWords(coats)}</dd>
        </div>
        <div>
          <dt>Laid with</dt>
          <dd>{gunWords(gun)}</dd>
        </div>
        <div>
          <dt>Mixed in</dt>
          <dd>{roomWords(facts, roomId, now, zone)}</dd>
        </div>
      </dl>
      <Keys>
        {hasPlanned && (
          <Key glove onPress={() => open({ act: "coats" })}>
            Choose the coats
          </Key>
        )}
        <Key glove onPress={() => open({ act: "gun" })}>
          Gun and room
        </Key>
        {coats.length > 0 && (
          <Key glove kind="quiet" onPress={() => window.print()}>
            Print the sheet
          </Key>
        )}
      </Keys>
    </Board>
  );
}
