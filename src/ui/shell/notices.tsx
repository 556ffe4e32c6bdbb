"use client";
import { useQuery } from "@tanstack/react-query";
import { usePathname } from "next/navigation";
import { useEffect, useState } from "react";
import type { Notice as NoticeRow } from "~/core/shop/tables";
import { useFloor, useNow, usePending } from "~/device/react";
import { useApi } from "../api";
import { duration, moment } from "../format";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { RefusedBar } from "../kit/refused-bar";
import { wordsOf } from "../wording";
import type { Names } from "../wording/words";
import { useAct } from "./act";
import { useNames } from "./names";
import { useSession } from "./session-context";

/** What others' rulings mean for this member, and what of their own the server did not accept: explained, then put away. */
export function Notices() {
  return (
    <>
      <RefusedHere />
      <Told />
    </>
  );
}

function RefusedHere() {
  const { refused, dismiss } = usePending();
  const now = useNow(60_000);
  const names = useNames();
  const zone = useFloor((facts) => facts.all("shop")[0]?.zone) ?? "UTC";
  const isOnMore = usePathname().startsWith("/more");
  const [only] = refused;
  if (!only || isOnMore) return null;
  if (refused.length > 1)
    return (
      <RefusedBar
        title={`${refused.length} things that you did were not accepted`}
        keys={<Key href="/more">See why</Key>}
      >
        Nothing of it is lost. More says why, and what can be done about each.
      </RefusedBar>
    );
  const { intent, refusal } = only;
  const words = wordsOf(refusal, { names, now, zone });
  return (
    <RefusedBar
      title={words.title}
      keys={
        <>
          <Key href="/more">What can be done</Key>
          <Key kind="quiet" onPress={() => dismiss(intent.intentId)}>
            Lay it aside
          </Key>
        </>
      }
    >
      {[words.found, words.why, words.instead].filter(Boolean).join(" ")}
    </RefusedBar>
  );
}

function Told() {
  const api = useApi();
  const act = useAct();
  const { session } = useSession();
  const seq = useFloor((_, floor) => floor.seq);
  const now = useNow(60_000);
  const names = useNames();
  const zone = useFloor((facts) => facts.all("shop")[0]?.zone) ?? "UTC";
  const [read, setRead] = useState<ReadonlySet<string>>(new Set());
  const { data, refetch } = useQuery({ ...api.notices.mine.queryOptions(), enabled: !session.isSharedTablet });
  useEffect(() => {
    if (seq > 0 && !session.isSharedTablet) void refetch();
  }, [seq, refetch, session.isSharedTablet]);
  return (data ?? [])
    .filter((notice) => !read.has(notice.id))
    .map((notice) => (
      <Notice
        key={notice.id}
        kind="person"
        title={noticeTitle(notice, names)}
        keys={
          <Key
            onPress={() => {
              setRead((known) => new Set([...known, notice.id]));
              void act("see-notice", { noticeId: notice.id });
            }}
          >
            Seen
          </Key>
        }
      >
        {noticeSentence(notice, names)} {moment(notice.at, now, zone)}.
      </Notice>
    ));
}

const noticeTitles: Record<NoticeRow["about"], (who: string) => string> = {
  "claim-lost": (who) => `${who} has it`,
  "claim-contested": (who) => `${who} asked for it too`,
  "claim-ended": (who) => `${who} ended your claim`,
  "claim-handed-over": (who) => `${who} hands it over to you`,
  "claim-lapsed": () => "Your claim ran out",
  "number-changed": () => "Write the tag anew",
  "entry-corrected": (who) => `${who} wrote in your hours`,
  "stage-moved-meanwhile": (who) => `${who} meant to move it too`,
  "test-after-passing": () => "A test failed after it was passed",
  "treated-as-lead": () => "Treat it as lead",
  "task-finished-by-other": (who) => `${who} finished your task`,
};

const noticeTitle = (notice: NoticeRow, names: Names): string =>
  noticeTitles[notice.about](names.member(notice.byMemberId));

function noticeSentence({ about, taskId, detail = {} }: NoticeRow, names: Names): string {
  const task = taskId ? names.task(taskId) : "";
  switch (about) {
    case "claim-contested":
      return `${task}: taken while apart. You hold it. ${Number(detail.keptSeconds) > 0 ? `${duration(Number(detail.keptSeconds))} of work on it are kept as help. ` : ""}Hand it over at the bench if that is better.`;
    case "number-changed":
      return `${detail.asked} was taken; this one is ${detail.number}.`;
    case "stage-moved-meanwhile":
      return `Theirs was to ${detail.toStage}. Yours stands.`;
    case "test-after-passing":
      return "Look at the piece before it goes on.";
    default:
      return [task, detail.why].filter(Boolean).join(": ");
  }
}
