import { useConnection } from "~/device/react";
import type { ClosedBecause } from "~/device/room-link";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";

type Words = { title: string; sentence: string; leadsToSignIn: boolean };

const hungUp: Words = {
  title: "The server hung up",
  sentence: "Load the page again. If it stays like this, tell the owner what you did last.",
  leadsToSignIn: false,
};

const wordsByCause: Record<Exclude<ClosedBecause, "other-epoch">, Words> = {
  "session-over": {
    title: "Signed out",
    sentence: "This device is not signed in any longer. What is kept here goes out when you sign in again.",
    leadsToSignIn: true,
  },
  "no-right": {
    title: "The floor is not open to you",
    sentence:
      "Your place in this shop has ended, or your role does not read the floor. Hours from before are not lost.",
    leadsToSignIn: true,
  },
  "no-such-room": hungUp,
  malformed: hungUp,
  "too-large": hungUp,
};

/** Why the floor does not come any more, where trying again will not help. */
export function ClosedNotice() {
  const { connection, delivery } = useConnection();
  const isClosed = connection.state === "closed" && connection.because !== "other-epoch";
  const cause = isClosed ? connection.because : delivery.state === "signed-out" ? "session-over" : undefined;
  if (cause === undefined || cause === "other-epoch") return null;
  const { title, sentence, leadsToSignIn } = wordsByCause[cause];
  return (
    <Notice kind="stuck" title={title} keys={leadsToSignIn ? <Key href="/sign-in">Sign in</Key> : undefined}>
      {sentence}
    </Notice>
  );
}
