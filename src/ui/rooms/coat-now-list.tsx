import { Check, CircleHelp, Droplets, Flame, Snowflake, Thermometer, X } from "lucide-react";
import type { InstantMs } from "~/core/units";
import type { CoatNow } from "./coat-now";
import { answerWords, blushWords, linesOf, untilWords, windowWords } from "./coat-now-words";
import "./coat-now.css";

const marks = { yes: Check, "warm-first": Thermometer, no: X, unread: CircleHelp } as const;

type CoatNowListProps = { found: CoatNow[]; now: InstantMs; zone: string };

/** May we coat now? One product a line: the answer, then what is found and needed, then the next good air. */
export function CoatNowList({ found, now, zone }: CoatNowListProps) {
  if (found.length === 0) return null;
  return (
    <div className="coat-now">
      <h3>May we coat now?</h3>
      {found.some(({ isLittleKnown }) => isLittleKnown) && (
        <p className="why">Now only: less than a day of this room was read, and nobody typed a forecast.</p>
      )}
      <ul>
        {found.map((product) => (
          <CoatNowLine key={product.productId} product={product} now={now} zone={zone} />
        ))}
      </ul>
    </div>
  );
}

function CoatNowLine({ product, now, zone }: { product: CoatNow; now: InstantMs; zone: string }) {
  const { answer, name, waiting, untilAt, next, blush, cold, isFlameNear } = product;
  const Mark = isFlameNear ? Flame : marks[answer];
  const lines = linesOf(product, now, zone);
  return (
    <li data-answer={answer}>
      <p className="coat-answer">
        <Mark aria-hidden="true" size={22} strokeWidth={3} />
        <b>{answerWords[answer]}</b>
      </p>
      <div className="coat-about">
        <p className="coat-product">
          <b>{name}</b>
          {waiting > 0 && <span>{waiting === 1 ? "1 coat waits" : `${waiting} coats wait`}</span>}
        </p>
        {answer === "yes" && untilAt && <p className="coat-when">{untilWords(untilAt, now, zone)}</p>}
        {lines.map((line) => (
          <p key={line}>{line}</p>
        ))}
        {next && (
          <p className="coat-when">
            Next good air {windowWords(next, now, zone)}
            {next.needsWarmPiece && ", once the piece is as warm as the room"}
          </p>
        )}
        {cold && (
          <p className="coat-caution">
            <Snowflake aria-hidden="true" size={18} /> Keep it warm, or coat another day.
          </p>
        )}
        {blush && (
          <p className="coat-caution">
            <Droplets aria-hidden="true" size={18} /> {blushWords[blush]}
          </p>
        )}
      </div>
    </li>
  );
}
