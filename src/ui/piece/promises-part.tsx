"use client";
import { useMemo } from "react";
import { earliestHonest } from "~/core/cure/next-gate";
import type { Picture } from "~/core/cure/picture";
import { broughtForward } from "~/core/cure/promise-forward";
import type { Facts } from "~/core/shop/facts";
import type { PromiseMade } from "~/core/shop/tables";
import { type InstantMs, minuteMs } from "~/core/units";
import { honestWords, promiseSortWords, promiseStanding, toWhomWords } from "~/ui/floor/acts/promise-words";
import type { Outlook } from "~/ui/floor/outlook";
import { Key, Keys } from "~/ui/kit/key";
import { PromiseFlag } from "~/ui/kit/promise-flag";
import { forwardWords, heldWords, placedWords } from "./honest-words";
import { PiecePart } from "./piece-part";
import "./honest-date.css";

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
      {outlook.picture && (
        <HonestPart picture={outlook.picture} sort={live[0]?.sort ?? "delivery"} now={now} zone={zone} />
      )}
      {mayPlan && (
        <Keys>
          <Key onPress={onPromise}>{live.length > 0 ? "Promise, move or drop" : "Promise a date"}</Key>
        </Keys>
      )}
    </PiecePart>
  );
}

type HonestPartProps = { picture: Picture; sort: PromiseMade["sort"]; now: InstantMs; zone: string };

/** What can honestly be said, what holds it, and what would bring it forward. */
function HonestPart({ picture, sort, now, zone }: HonestPartProps) {
  // worked out afresh every five minutes: it asks many times over
  const askedAt = Math.floor(now / (5 * minuteMs)) * 5 * minuteMs;
  const honest = useMemo(() => earliestHonest(picture, sort, now), [picture, sort, now]);
  const sooner = useMemo(() => broughtForward(picture, sort, askedAt), [picture, sort, askedAt]);
  const held = heldWords(honest, picture);
  const placed = placedWords(honest, picture, now, zone);
  return (
    <div className="honest-date">
      <p>
        <b>{promiseSortWords[sort]}.</b> {honestWords(honest, now, zone)}
      </p>
      {held && <p className="why">{held}</p>}
      {placed.length > 0 && (
        <details>
          <summary>The coats that are counted in</summary>
          <ul className="ruled-lines">
            {placed.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </details>
      )}
      {sooner.length > 0 && (
        <>
          <p>Would bring it forward:</p>
          <ul className="ruled-lines">
            {sooner.map((found) => (
              <li key={found.kind}>{forwardWords(found, picture, now, zone)}</li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}
