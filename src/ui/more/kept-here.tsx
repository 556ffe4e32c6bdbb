"use client";
import { useMemo } from "react";
import { useConnection, useFloor, useNow, usePending } from "~/device/react";
import { Key, Keys } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { PendingList } from "~/ui/kit/pending-list";
import { RefusedBar } from "~/ui/kit/refused-bar";
import { SpanHead } from "~/ui/kit/span-head";
import { useNames } from "~/ui/shell/names";
import { wordsOf } from "~/ui/wording";
import { actWords } from "./act-words";
import { pendingChanges, pieceIdOf } from "./kept-words";

const countWords = (count: number): string => {
  if (count === 0) return "Nothing waits. All that was done here has been sent.";
  const some = count === 1 ? "One change waits." : `${count} changes wait, in this order.`;
  return `${some} Each gets its answer when the device reaches the shop.`;
};

/** Saved by the browser as a file of its own, for carrying it away by hand. */
function saveAsFile(file: File): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement("a");
  link.href = address;
  link.download = file.name;
  link.click();
  URL.revokeObjectURL(address);
}

/** The queue of this device: what waits, what was answered with no, and a way to carry it off. */
export function KeptHere() {
  const { waiting, refused, notKept, dismiss, asFile } = usePending();
  const { heardAt } = useConnection();
  const facts = useFloor((floor) => floor);
  const names = useNames();
  const now = useNow(60_000);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const changes = useMemo(
    () => pendingChanges(facts, waiting, { now, zone, heardAt }),
    [facts, waiting, now, zone, heardAt],
  );
  return (
    <section className="more-part" aria-label="Kept on this device">
      <SpanHead words="Kept on this device" />
      <p className="more-words">{countWords(changes.length)}</p>
      {notKept && (
        <Notice kind="stuck" title="The last thing you did could not be kept">
          <p>
            {notKept.because === "device-full" ? "This device is full. " : "This device’s store failed. "}
            Save the file now, and do it again once there is room.
          </p>
        </Notice>
      )}
      <PendingList changes={changes} />
      {refused.map(({ intent, refusal }) => {
        const words = wordsOf(refusal, { names, now, zone });
        const pieceId = pieceIdOf(facts, intent);
        return (
          <RefusedBar
            key={intent.intentId}
            tag={pieceId && facts.get("piece", pieceId)?.number}
            href={pieceId && `/piece?id=${pieceId}`}
            title={`${actWords[intent.kind] ?? "Not accepted"}: ${words.title}`}
            keys={<Key onPress={() => dismiss(intent.intentId)}>I have read it</Key>}
          >
            {[words.found, words.why, words.instead].filter(Boolean).join(" ")}
          </RefusedBar>
        );
      })}
      {(waiting.length > 0 || refused.length > 0 || notKept) && (
        <div className="more-words">
          <Keys>
            <Key glove onPress={() => saveAsFile(asFile())}>
              Save as a file
            </Key>
          </Keys>
        </div>
      )}
    </section>
  );
}
