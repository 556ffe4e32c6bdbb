"use client";
import dynamic from "next/dynamic";
import { useMemo, useState } from "react";
import { awaitsConfirmation } from "~/core/cure/observation";
import type { Picture } from "~/core/cure/picture";
import type { Facts } from "~/core/shop/facts";
import type { HandTest, Piece } from "~/core/shop/tables";
import { type InstantMs, minuteMs } from "~/core/units";
import { useDevice } from "~/device/react";
import { resultChoices } from "~/ui/floor/acts/test-kinds";
import { moment } from "~/ui/format";
import { Key, Keys } from "~/ui/kit/key";
import { useAct } from "~/ui/shell/act";
import { testWords } from "~/ui/trade-words";
import { dryLines } from "./dry-lines";
import { PiecePart } from "./piece-part";
import { measuredWords, testedWords } from "./test-words";

const WaterSheet = dynamic(() => import("./water-sheet").then((module) => module.WaterSheet), { ssr: false });

/** So long its maker may take a test back; after that another test answers it. */
const takeBackMs = 10 * minuteMs;

type TestsPartProps = {
  facts: Facts;
  picture?: Picture;
  piece: Piece;
  memberId?: string;
  /** Whether who looks may say that a helper's test counts. */
  mayPlan: boolean;
  mayWork: boolean;
  now: InstantMs;
  zone: string;
};

/** What hands, meters and scales have found, the latest first, and how dry washed wood is. */
export function TestsPart({ facts, picture, piece, memberId, mayPlan, mayWork, now, zone }: TestsPartProps) {
  const act = useAct();
  const { newId } = useDevice();
  const [isWetting, setWetting] = useState(false);
  const tests = facts.where("test", "pieceId", piece.id).toSorted((one, other) => other.at - one.at);
  const drying = useMemo(() => (picture ? dryLines(picture, now, zone) : []), [picture, now, zone]);
  const mayWet = mayWork && picture !== undefined && picture.surfaces.length > 0;
  if (tests.length === 0 && drying.length === 0 && !mayWet) return null;
  const head = { tag: piece.number, name: piece.name };
  const takeBack = (test: HandTest) => act("take-back-test", { testId: test.id }, { ...head, said: "Taken back." });
  const confirm = (test: HandTest) =>
    act("confirm-test", { confirmationId: newId(), testId: test.id }, { ...head, said: "It counts from now on." });
  const confirmedBy = (test: HandTest) => {
    const yes = picture?.confirmations.find(({ testId }) => testId === test.id);
    return yes && `${facts.get("member", yes.by)?.name ?? "a partner"} said that it counts`;
  };
  return (
    <PiecePart title="Tests by hand">
      {tests.length === 0 && drying.length === 0 && <p className="why">No hand has tested it yet.</p>}
      <ul className="ruled-lines">
        {drying.map(({ surfaceId, words, detail }) => (
          <li key={surfaceId}>
            <p>
              <b>{words}</b>
              <br />
              <small>{detail}</small>
            </p>
          </li>
        ))}
        {tests.map((test) => {
          const waits = picture !== undefined && awaitsConfirmation(picture, test);
          return (
            <li key={test.id}>
              <p>
                <b>{resultChoices(test.kind).find(({ id }) => id === test.result)?.words}</b>
                {`: ${testWords[test.kind]} on ${testedWords(facts, test)}${measuredWords(test)}`}
                <br />
                <small>
                  {[
                    moment(test.at, now, zone),
                    facts.get("member", test.by)?.name,
                    test.note,
                    test.takenBackAt !== undefined && "taken back",
                    confirmedBy(test),
                    waits && "opens nothing early until a partner says that it counts",
                  ]
                    .filter(Boolean)
                    .join(" · ")}
                </small>
              </p>
              {waits && mayPlan && <Key onPress={() => void confirm(test)}>It counts</Key>}
              {test.by === memberId && test.takenBackAt === undefined && now - test.at < takeBackMs && (
                <Key kind="quiet" onPress={() => void takeBack(test)}>
                  Take back
                </Key>
              )}
            </li>
          );
        })}
      </ul>
      {mayWet && (
        <Keys>
          <Key kind="quiet" onPress={() => setWetting(true)}>
            It got wet
          </Key>
        </Keys>
      )}
      {isWetting && <WaterSheet pieceId={piece.id} onClose={() => setWetting(false)} />}
    </PiecePart>
  );
}
