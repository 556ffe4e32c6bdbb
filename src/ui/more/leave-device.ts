import { signOut } from "next-auth/react";
import { wipeDevice } from "~/device/session";
import type { DeviceStore } from "~/device/store";
import { apiClient, isSignedOut } from "~/ui/api";
import { forgetSession } from "~/ui/shell/session-here";

/** A full load: nothing of the one who left stays in memory. */
const toTheDoor = () => location.replace("/sign-in");

/**
 * Signs out of the server, then takes every copy off this device. Without signal nothing is done: a session that the
 * server still takes for live must not be left behind on a device that looks signed out.
 */
export async function leaveDevice(store: DeviceStore): Promise<"no-signal" | "left"> {
  try {
    await apiClient.account.signOut.mutate();
  } catch (error) {
    if (!isSignedOut(error)) return "no-signal";
  }
  await store.end();
  await wipeDevice();
  await forgetSignIn();
  return "left";
}

/** The cookie and what the screens remember; the copies stay, for whoever signs in as the same member. */
export async function forgetSignIn(): Promise<void> {
  await signOut({ redirect: false });
  forgetSession();
  toTheDoor();
}
