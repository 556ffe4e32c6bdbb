"use client";
import { useMemo } from "react";
import { mayBeTakenBack } from "~/core/shop/ways-back";
import { useConnection, useFloor, useNow, usePending } from "~/device/react";
import { PendingList } from "~/ui/kit/pending-list";
import { SpanHead } from "~/ui/kit/span-head";
import { TakeBackKey } from "~/ui/shell/take-back-key";
import { pendingChanges } from "./kept-words";
import { RefusedHere } from "./refused-here";
import { NotKeptHere, UnsentFiles } from "./unsent-work";

const countWords = (count: number): string => {
  if (count === 0) return "Nothing waits. All that was done here has been sent.";
  const some = count === 1 ? "One change waits." : `${count} changes wait, in this order.`;
  return `${some} Each gets its answer when the device reaches the shop.`;
};

/** The queue of this device: what waits, what was answered with no, and a way to carry it off. */
export function KeptHere() {
  const { waiting } = usePending();
  const { heardAt } = useConnection();
  const facts = useFloor((floor) => floor);
  const now = useNow(60_000);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const changes = useMemo(
    () => pendingChanges(facts, waiting, { now, zone, heardAt }),
    [facts, waiting, now, zone, heardAt],
  );
  const keyOf = (id: string) => {
    const row = waiting.find(({ intent }) => intent.intentId === id);
    // what never left can be taken out of the line whatever it is; what left, where the shop takes that back
    const mayGo = row && (!row.hasTravelled || mayBeTakenBack(row.intent.kind));
    return mayGo && <TakeBackKey intentId={id} kind={row.intent.kind} />;
  };
  return (
    <section className="more-part" aria-label="Kept on this device">
      <SpanHead words="Kept on this device" />
      <p className="more-words">{countWords(changes.length)}</p>
      <NotKeptHere />
      <PendingList changes={changes} keyOf={keyOf} />
      <RefusedHere />
      <UnsentFiles />
    </section>
  );
}
