"use client";
import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { useApi } from "~/ui/api";
import { markOf } from "~/ui/floor/strip-view";
import { moment } from "~/ui/format";
import { Key } from "~/ui/kit/key";
import { FreeMark, MemberMark } from "~/ui/kit/member-mark";
import { useNames } from "~/ui/shell/names";
import { TakeBackKey } from "~/ui/shell/take-back-key";
import { wordsOf } from "~/ui/wording";
import { pastWords, staysBecause, takeBackWords } from "~/ui/wording/take-back";
import { PiecePart } from "./piece-part";

/** The server sends this many at a time; a full page has one before it. */
const pageLength = 50;
/** The last few are what one looks for; the rest is a key away. */
const shortLength = 12;

type PastPartProps = { facts: Facts; pieceId: string; now: InstantMs; zone: string };

/** What the ledger says happened, the latest first, page by page. */
export function PastPart({ facts, pieceId, now, zone }: PastPartProps) {
  const [pages, setPages] = useState<(number | undefined)[]>([undefined]);
  const [isShort, setShort] = useState(true);
  return (
    <PiecePart title="What happened">
      {pages.map((beforeSeq, index) => (
        <PastPage
          key={beforeSeq ?? "latest"}
          facts={facts}
          pieceId={pieceId}
          now={now}
          zone={zone}
          beforeSeq={beforeSeq}
          onUnfold={isShort ? () => setShort(false) : undefined}
          onEarlier={index === pages.length - 1 ? (seq) => setPages([...pages, seq]) : undefined}
        />
      ))}
    </PiecePart>
  );
}

type PastPageProps = PastPartProps & {
  beforeSeq?: number;
  /** Only the last few are shown, and this shows the rest of the page. */
  onUnfold?: () => void;
  onEarlier?: (beforeSeq: number) => void;
};

function PastPage({ facts, pieceId, now, zone, beforeSeq, onUnfold, onEarlier }: PastPageProps) {
  const api = useApi();
  const names = useNames();
  const piece = facts.get("piece", pieceId);
  const { data, isError, fetchStatus, refetch } = useQuery(api.piece.history.queryOptions({ pieceId, beforeSeq }));
  if (!data)
    return isError || fetchStatus === "paused" ? (
      <p>What happened needs signal: it does not rest on this device.</p>
    ) : (
      <p role="status">Looking.</p>
    );
  const earliest = data.at(-1);
  const goneIds = new Set(data.flatMap(({ tookBack }) => tookBack?.intentId ?? []));
  const isFolded = onUnfold !== undefined && data.length > shortLength;
  return (
    <>
      <ul className="past-lines">
        {(isFolded ? data.slice(0, shortLength) : data).map((entry) => {
          const { seq, kind, memberId, happenedAt, why, takingBack, tookBack } = entry;
          const member = memberId ? facts.get("member", memberId) : undefined;
          const isGone = takingBack?.state === "taken-back" || goneIds.has(entry.intentId);
          const words = pastWords(kind, tookBack);
          return (
            <li key={seq}>
              <time dateTime={new Date(happenedAt).toISOString()}>{moment(happenedAt, now, zone)}</time>
              {member ? <MemberMark {...markOf(member)} /> : <FreeMark />}
              <div className="past-words">
                <p>
                  {isGone ? (
                    <>
                      <s>{words}</s>, {takeBackWords.done}
                    </>
                  ) : (
                    words
                  )}
                  {why && `: ${why}`}
                </p>
                {takingBack?.state === "hindered" && (
                  <p className="why">
                    {staysBecause(takingBack.refusal, wordsOf(takingBack.refusal, { names, now, zone }).found)}
                  </p>
                )}
                {takingBack?.state === "open" && (
                  <TakeBackKey
                    intentId={entry.intentId}
                    kind={kind}
                    tag={piece?.number}
                    name={piece?.name}
                    onAnswered={refetch}
                  />
                )}
              </div>
            </li>
          );
        })}
      </ul>
      {data.length === 0 && <p className="why">Nothing is written down of it yet.</p>}
      {isFolded ? (
        <Key kind="quiet" onPress={onUnfold}>
          Earlier
        </Key>
      ) : (
        onEarlier &&
        earliest &&
        data.length === pageLength && (
          <Key kind="quiet" onPress={() => onEarlier(earliest.seq)}>
            Earlier
          </Key>
        )
      )}
    </>
  );
}
