"use client";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { AddCanSheet } from "./add-can-sheet";
import { CanSheet } from "./can-sheet";
import { CoatsSheet } from "./coats-sheet";
import { CombSheet } from "./comb-sheet";
import { CupSheet } from "./cup-sheet";
import type { GunSetup } from "./gun-setup";
import { GunSheet } from "./gun-sheet";
import { MixSheet } from "./mix-sheet";
import type { BatchShown } from "./mixing-view";
import type { PlannedCoat } from "./planned-coats";
import { PourSheet } from "./pour-sheet";
import { ShellacSheet } from "./shellac-sheet";

/** What one of the screen's keys opens. */
export type MixingAct =
  | { act: "coats" }
  | { act: "gun" }
  | { act: "mix"; shown: BatchShown }
  | { act: "pour"; perMille: number }
  | { act: "can"; canId: string }
  | { act: "add-can" }
  | { act: "cup" }
  | { act: "comb" }
  | { act: "shellac" };

export type MixingSheetsProps = {
  opened: MixingAct;
  facts: Facts;
  planned: readonly PlannedCoat[];
  chosen: readonly string[];
  choose: (coatIds: string[]) => void;
  gun: GunSetup;
  setGun: (gun: GunSetup) => void;
  roomId: string | undefined;
  setRoom: (roomId: string) => void;
  now: InstantMs;
  zone: string;
  close: () => void;
};

/** The sheets of the mixing screen, fetched when the first of them is opened. */
export function MixingSheets({ opened, ...shared }: MixingSheetsProps) {
  const { facts, now, zone, close } = shared;
  switch (opened.act) {
    case "coats":
      return <CoatsSheet planned={shared.planned} chosen={shared.chosen} choose={shared.choose} close={close} />;
    case "gun":
      return <GunSheet {...shared} />;
    case "mix":
      return <MixSheet shown={opened.shown} facts={facts} roomId={shared.roomId} close={close} />;
    case "pour":
      return <PourSheet perMille={opened.perMille} close={close} />;
    case "can":
      return <CanSheet canId={opened.canId} facts={facts} now={now} zone={zone} close={close} />;
    case "add-can":
      return <AddCanSheet facts={facts} now={now} zone={zone} close={close} />;
    case "cup":
      return <CupSheet close={close} />;
    case "comb":
      return <CombSheet close={close} />;
    case "shellac":
      return <ShellacSheet close={close} />;
  }
}
