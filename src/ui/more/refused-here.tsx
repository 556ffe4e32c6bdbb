"use client";
import { useMemo, useState } from "react";
import { shopDayAt } from "~/core/calendar";
import type { RefusedIntent } from "~/device/queue-database";
import { useFloor, useNow, usePending } from "~/device/react";
import { moment } from "~/ui/format";
import { Key, Keys } from "~/ui/kit/key";
import { MomentField } from "~/ui/kit/moment-field";
import { RefusedBar } from "~/ui/kit/refused-bar";
import { nothingTyped, readMoment } from "~/ui/kit/typed-moment";
import { useNames } from "~/ui/shell/names";
import { wordsOf } from "~/ui/wording";
import { actWords } from "./act-words";
import { madeAt, pieceIdOf } from "./kept-words";
import { maySendAgain, type RefusedGroup, refusedGroups, restingOn } from "./refused-groups";

/** Of a long group so many are shown until somebody asks for the rest. */
const fewRows = 3;

/** What was answered with no: the same sort of reason together, the newest first, each with what can be done. */
export function RefusedHere() {
  const { refused } = usePending();
  const groups = useMemo(() => refusedGroups(refused), [refused]);
  return groups.map((group) => <Group key={group.kind} group={group} refused={refused} />);
}

function useShop() {
  const facts = useFloor((floor) => floor);
  const names = useNames();
  const now = useNow(60_000);
  return { facts, names, now, zone: facts.all("shop")[0]?.zone ?? "UTC" };
}

function Group({ group: { kind, rows }, refused }: { group: RefusedGroup; refused: readonly RefusedIntent[] }) {
  const { dismiss, sendAgain } = usePending();
  const { names, now, zone } = useShop();
  const [isWhole, setWhole] = useState(false);
  const [first] = rows;
  if (!first) return null;
  const { title } = wordsOf(first.refusal, { names, now, zone });
  const shown = isWhole ? rows : rows.slice(0, fewRows);
  const ids = rows.map(({ intent }) => intent.intentId);
  const resting = rows.flatMap((row) => restingOn(refused, row)).map(({ intent }) => intent.intentId);
  return (
    <section className="refused-group" aria-label={title}>
      {rows.length > 1 && (
        <div className="more-words">
          <h3>
            {rows.length} × {title}
          </h3>
        </div>
      )}
      {shown.map((row) => (
        <Refused key={row.intent.intentId} row={row} resting={restingOn(refused, row)} />
      ))}
      {rows.length > 1 && (
        <div className="more-words">
          <Keys>
            {shown.length < rows.length && (
              <Key glove onPress={() => setWhole(true)}>
                Show all {rows.length}
              </Key>
            )}
            {maySendAgain(kind) && kind !== "clock-not-trusted" && (
              <Key glove onPress={() => void sendAgain(ids)}>
                Send all {rows.length} again
              </Key>
            )}
            <Key kind="take-back" glove onPress={() => void dismiss(...ids, ...resting)}>
              Lay all {rows.length} aside
            </Key>
          </Keys>
        </div>
      )}
    </section>
  );
}

function Refused({ row, resting }: { row: RefusedIntent; resting: RefusedIntent[] }) {
  const { dismiss, sendAgain } = usePending();
  const { facts, names, now, zone } = useShop();
  const [isAsking, setAsking] = useState(false);
  const { intent, refusal } = row;
  const words = wordsOf(refusal, { names, now, zone });
  const pieceId = pieceIdOf(facts, intent);
  const act = actWords[intent.kind] ?? intent.kind.replaceAll("-", " ");
  const asksWhen = refusal.kind === "clock-not-trusted";
  const restingIds = resting.map((one) => one.intent.intentId);
  return (
    <RefusedBar
      tag={pieceId && facts.get("piece", pieceId)?.number}
      href={pieceId && `/piece?id=${pieceId}`}
      title={`${act}: ${words.title}`}
      keys={
        isAsking ? undefined : (
          <>
            {asksWhen && (
              <Key kind="main" glove onPress={() => setAsking(true)}>
                Say when it was
              </Key>
            )}
            {!asksWhen && maySendAgain(refusal.kind) && (
              <Key glove onPress={() => void sendAgain([intent.intentId])}>
                Send it again
              </Key>
            )}
            <Key kind="quiet" glove onPress={() => void dismiss(intent.intentId, ...restingIds)}>
              Lay it aside
            </Key>
          </>
        )
      }
    >
      <p>
        {asksWhen
          ? "This device’s clock was set or had stopped, so nobody knows when this was. It stays here until you say."
          : `${moment(madeAt(row), now, zone)}. ${[words.found, words.why, words.instead].filter(Boolean).join(" ")}`}
      </p>
      {resting.length > 0 && (
        <p>
          {resting.length === 1 ? "One more thing rests on it" : `${resting.length} more things rest on it`} and{" "}
          {resting.length === 1 ? "goes" : "go"} along:{" "}
          {resting.map((one) => actWords[one.intent.kind] ?? one.intent.kind.replaceAll("-", " ")).join(", ")}.
        </p>
      )}
      {isAsking && (
        <When
          now={now}
          zone={zone}
          leave={() => setAsking(false)}
          say={(happenedAt) => void sendAgain([intent.intentId], happenedAt)}
        />
      )}
    </RefusedBar>
  );
}

type WhenProps = { now: number; zone: string; say: (at: number) => void; leave: () => void };

/** The one question that a clock leaves open. */
function When({ now, zone, say, leave }: WhenProps) {
  const [typed, setTyped] = useState(() => nothingTyped(shopDayAt(now, zone)));
  const [error, setError] = useState<string>();
  const send = () => {
    const read = readMoment(typed, zone);
    if (!read.ok) setError(read.refusal);
    else if (read.value.at > now) setError("That is still to come. Write when it was.");
    else say(read.value.at);
  };
  return (
    <form
      className="more-form"
      onSubmit={(event) => {
        event.preventDefault();
        send();
      }}
    >
      <MomentField label="When was it?" zone={zone} value={typed} onChange={setTyped} error={error} />
      <Keys>
        <Key kind="main" glove type="submit">
          Send it with this time
        </Key>
        <Key kind="quiet" glove onPress={leave}>
          Not now
        </Key>
      </Keys>
    </form>
  );
}
