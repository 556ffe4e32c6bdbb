"use client";
import { shopDayAt } from "~/core/calendar";
import type { Refusal } from "~/core/shop/refusal";
import { useDevice, useFloor, useNow } from "~/device/react";
import { type ActOptions, useAct } from "~/ui/shell/act";
import { useMe } from "~/ui/shell/session-context";

/** What every sheet about a piece needs: the floor, the piece, the hour, who acts, and the door. */
export function usePieceAct(pieceId: string) {
  const facts = useFloor((floor) => floor);
  const act = useAct();
  const me = useMe();
  const now = useNow(60_000);
  const { newId } = useDevice();
  const piece = facts.get("piece", pieceId);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const head = { tag: piece?.number, name: piece?.name };

  /** True when it was kept on this device: the sheet may close. */
  const send = async (kind: string, body: unknown, options: ActOptions = {}): Promise<boolean> =>
    (await act(kind, body, { ...head, ...options })).state === "kept";

  return { facts, piece, zone, now, today: shopDayAt(now, zone), me, newId, head, send };
}

/** A gate said no to a report. Telling that it was done all the same needs no leave (it is then looked at). */
export const isOfGate = (refusal: Refusal): boolean => "action" in refusal || toldAsDone.includes(refusal.kind);

const toldAsDone: readonly Refusal["kind"][] = [
  "wipe-due",
  "lead-locked",
  "ignition-near",
  "wood-wet",
  "bleed-open",
  "can-past-life",
  "pot-life-over",
  "glue-too-cold",
  "joint-not-ready",
  "joint-suspect",
];
