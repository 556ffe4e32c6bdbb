"use client";
import { useQuery } from "@tanstack/react-query";
import { useFloor, useNow } from "~/device/react";
import { useApi } from "~/ui/api";
import { moment } from "~/ui/format";
import { SpanHead } from "~/ui/kit/span-head";
import { Tag } from "~/ui/kit/tag";
import { useNames } from "~/ui/shell/names";
import { TakeBackKey } from "~/ui/shell/take-back-key";
import { wordsOf } from "~/ui/wording";
import { pastWords, staysBecause, takeBackWords } from "~/ui/wording/take-back";

/** What this member did in the last day and may take back, on whichever device, the latest first; or why it stays. */
export function OwnActs() {
  const api = useApi();
  const { data, isError, fetchStatus, refetch } = useQuery(api.acts.own.queryOptions());
  const facts = useFloor((floor) => floor);
  const names = useNames();
  const now = useNow(60_000);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  return (
    <section className="more-part" aria-label="What you did in the last day">
      <SpanHead words="What you did in the last day" />
      {!data && (
        <p className="more-words" role="status">
          {isError || fetchStatus === "paused" ? "Needs signal: it does not rest on this device." : "Looking."}
        </p>
      )}
      {data?.length === 0 && <p className="more-words">Nothing that can be taken back.</p>}
      {data && data.length > 0 && (
        <ul className="own-acts">
          {data.map(({ intentId, kind, happenedAt, pieceId, takingBack }) => {
            const piece = pieceId === undefined ? undefined : facts.get("piece", pieceId);
            return (
              <li key={intentId}>
                <div className="board-head">
                  {piece && <Tag number={piece.number} href={`/piece?id=${piece.id}`} />}
                  <time dateTime={new Date(happenedAt).toISOString()}>{moment(happenedAt, now, zone)}</time>
                </div>
                {takingBack.state === "taken-back" ? (
                  <p>
                    <s>{pastWords(kind)}</s>, {takeBackWords.done}
                  </p>
                ) : (
                  <b>{pastWords(kind)}</b>
                )}
                {takingBack.state === "hindered" && (
                  <p>{staysBecause(takingBack.refusal, wordsOf(takingBack.refusal, { names, now, zone }).found)}</p>
                )}
                {takingBack.state === "open" && (
                  <TakeBackKey
                    intentId={intentId}
                    kind={kind}
                    tag={piece?.number}
                    name={piece?.name}
                    onAnswered={refetch}
                  />
                )}
              </li>
            );
          })}
        </ul>
      )}
    </section>
  );
}
