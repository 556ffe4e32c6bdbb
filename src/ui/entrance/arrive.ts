"use client";
import { signIn } from "next-auth/react";
import { accept, type Result, refuse } from "~/core/result";
import { idMaker } from "~/device/ids";
import { apiClient } from "../api";
import { deviceIdHere, keepSession } from "../shell/session-here";
import { type EntranceRefusal, refusalFromText } from "./entrance-words";

/** Before anybody is signed in there is no corrected clock; the ids only have to be nobody else's. */
export const newId = idMaker({ now: () => Date.now() });

/** How this device is called in the list of sessions. */
const deviceName = (): string => (matchMedia("(pointer: coarse)").matches ? "phone or tablet" : "computer");

/** Signs in on this device and keeps who it is, so that the floor opens without signal from now on. */
export async function arrive(signInName: string, password: string): Promise<Result<true, EntranceRefusal>> {
  try {
    // the library leaves the page where it cannot reach the server, and what was typed would be gone
    await apiClient.door.time.query();
  } catch {
    return refuse({ kind: "no-signal" });
  }
  const credentials = { signInName, password, deviceId: deviceIdHere(newId), deviceName: deviceName() };
  const answer = await signIn("credentials", { redirect: false, ...credentials });
  if (!answer) return refuse({ kind: "not-answered" });
  if (answer.error) return refuse(refusalFromText(answer.error));
  const me = await apiClient.account.me.query();
  keepSession({
    shopId: me.shopId,
    shopName: me.shopName,
    deviceId: me.deviceId,
    isSharedTablet: me.isSharedTablet,
    memberId: me.isSharedTablet ? undefined : me.memberId,
    role: me.isSharedTablet ? undefined : me.role,
  });
  return accept(true);
}

type EntranceAnswer =
  | { ok: true; value: { verdict: "accepted" } | { verdict: "refused"; refusal: unknown } }
  | { ok: false; refusal: EntranceRefusal };

/** Passes an entrance and signs in through it; says what stopped it, wherever that was. */
export async function enterAndArrive(
  enter: () => Promise<EntranceAnswer>,
  { signInName, password }: { signInName: string; password: string },
): Promise<Result<true, EntranceRefusal>> {
  let answer: EntranceAnswer;
  try {
    answer = await enter();
  } catch {
    return refuse({ kind: navigator.onLine ? "not-answered" : "no-signal" });
  }
  if (!answer.ok) return refuse(answer.refusal);
  if (answer.value.verdict === "refused") return refuse(answer.value.refusal as EntranceRefusal);
  return arrive(signInName, password);
}
