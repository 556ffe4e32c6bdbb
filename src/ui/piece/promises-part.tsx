"use client";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { promiseStanding, toWhomWords } from "~/ui/floor/acts/promise-words";
import type { Outlook } from "~/ui/floor/outlook";
import { Key, Keys } from "~/ui/kit/key";
import { PromiseFlag } from "~/ui/kit/promise-flag";
import { PiecePart } from "./piece-part";

type PromisesPartProps = {
  outlook: Outlook;
  facts: Facts;
  now: InstantMs;
  zone: string;
  mayPlan: boolean;
  onPromise: () => void;
};

/** Dates given, with their slack. What was moved or dropped before stands in what happened, with who and why. */
export function PromisesPart({ outlook, facts, now, zone, mayPlan, onPromise }: PromisesPartProps) {
  const live = facts.where("promise", "pieceId", outlook.piece.id).filter(({ state }) => state === "made");
  if (live.length === 0 && !mayPlan) return null;
  return (
    <PiecePart title="Promised">
      {live.length === 0 && <p className="why">No date is given to anybody.</p>}
      <ul className="ruled-lines">
        {live.map((promise) => {
          const standing = promiseStanding(promise, outlook.picture, now, zone);
          return (
            <li key={promise.id}>
              <PromiseFlag text={standing.text} atRisk={standing.isAtRisk} />
              <small>
                {`to ${toWhomWords[promise.toWhom]}`}
                {promise.isKnowinglyEarly && " · given early, knowingly"}
                {promise.why && ` · ${promise.why}`}
              </small>
            </li>
          );
        })}
      </ul>
      {mayPlan && (
        <Keys>
          <Key onPress={onPromise}>{live.length > 0 ? "Promise, move or drop" : "Promise a date"}</Key>
        </Keys>
      )}
    </PiecePart>
  );
}
