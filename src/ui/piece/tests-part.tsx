"use client";
import type { Facts } from "~/core/shop/facts";
import type { HandTest, Piece } from "~/core/shop/tables";
import { type InstantMs, minuteMs } from "~/core/units";
import { resultChoices } from "~/ui/floor/acts/test-kinds";
import { moment } from "~/ui/format";
import { Key } from "~/ui/kit/key";
import { useAct } from "~/ui/shell/act";
import { testWords } from "~/ui/trade-words";
import { PiecePart } from "./piece-part";

/** So long its maker may take a test back; after that another test answers it. */
const takeBackMs = 10 * minuteMs;

type TestsPartProps = { facts: Facts; piece: Piece; memberId?: string; now: InstantMs; zone: string };

/** What hands have found, the latest first. */
export function TestsPart({ facts, piece, memberId, now, zone }: TestsPartProps) {
  const act = useAct();
  const tests = facts.where("test", "pieceId", piece.id).toSorted((one, other) => other.at - one.at);
  if (tests.length === 0) return null;
  const subjectWords = ({ subject }: HandTest): string => {
    if (subject.of === "surface") return facts.get("surface", subject.surfaceId)?.name.toLowerCase() ?? "a surface";
    if (subject.of === "paint-layer") return `old paint, ${subject.layer}`;
    const pair = facts.get("pair", subject.pairId);
    return [pair?.surfaceA, pair?.surfaceB]
      .map((id) => (id && facts.get("surface", id)?.name.toLowerCase()) || "a face")
      .join(" against ");
  };
  const takeBack = (test: HandTest) =>
    act("take-back-test", { testId: test.id }, { tag: piece.number, said: "Taken back." });
  return (
    <PiecePart title="Tests by hand">
      <ul className="ruled-lines">
        {tests.map((test) => (
          <li key={test.id}>
            <p>
              <b>{resultChoices(test.kind).find(({ id }) => id === test.result)?.words}</b>
              {`: ${testWords[test.kind]} on ${subjectWords(test)}`}
              <br />
              <small>
                {[moment(test.at, now, zone), facts.get("member", test.by)?.name, test.note]
                  .filter(Boolean)
                  .join(" · ")}
              </small>
            </p>
            {test.by === memberId && now - test.at < takeBackMs && (
              <Key kind="quiet" onPress={() => void takeBack(test)}>
                Take back
              </Key>
            )}
          </li>
        ))}
      </ul>
    </PiecePart>
  );
}
