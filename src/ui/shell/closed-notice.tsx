import type { Ended } from "~/device/pass-database";
import { useConnection, useEnded, useFloor, useNow, usePending } from "~/device/react";
import type { ClosedBecause } from "~/device/room-link";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { endedWords } from "./ended-words";

type Words = { title: string; sentence: string; leadsToSignIn: boolean };

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
  "no-such-room": {
    title: "The shop’s floor is not found",
    sentence: "The server knows no such shop, perhaps because an older copy of it was put back. Ask the owner.",
    leadsToSignIn: false,
  },
  malformed: {
    title: "The server hung up",
    sentence: "It did not understand this page, which may be older than the server. Load the page again.",
    leadsToSignIn: false,
  },
  "too-large": {
    title: "The server hung up",
    sentence: "This page sent more at once than it takes. Load the page again; what is kept here is not lost.",
    leadsToSignIn: false,
  },
};

function EndedNotice({ ended }: { ended: Ended }) {
  const now = useNow(60_000);
  const zone = useFloor((facts) => facts.all("shop")[0]?.zone) ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
  const { waiting, refused } = usePending();
  const { title, sentences, delivered } = endedWords(ended, [...waiting, ...refused], now, zone);
  return (
    <Notice kind="stuck" title={title} keys={<Key href="/more">More</Key>}>
      {sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {delivered.length > 0 && <p>Delivered: {delivered.join("; ")}.</p>}
    </Notice>
  );
}

/** Why the floor does not come any more, where trying again will not help. */
export function ClosedNotice() {
  const { connection, delivery } = useConnection();
  const ended = useEnded();
  if (ended) return <EndedNotice ended={ended} />;
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
