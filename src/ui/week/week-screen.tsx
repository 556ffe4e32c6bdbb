"use client";
import { keepPreviousData, useQuery } from "@tanstack/react-query";
import { TRPCClientError } from "@trpc/client";
import dynamic from "next/dynamic";
import { useSearchParams } from "next/navigation";
import { useEffect, useMemo, useState } from "react";
import { useFloor, useNow } from "~/device/react";
import { useApi } from "../api";
import { BareBoards } from "../kit/bare-boards";
import { EmptyBoard } from "../kit/empty-board";
import { Key, Keys } from "../kit/key";
import { Notice } from "../kit/notice";
import { useMe, useSession } from "../shell/session-context";
import { SettleList } from "./settle-list";
import { thingsToSettle } from "./to-settle";
import { type OpenedEntry, WeekContext, type WeekShown } from "./week-context";
import { WeekHead } from "./week-head";
import { WeekLabour } from "./week-labour";
import { labourCells, type WeekAnswer } from "./week-shown";
import { WeekTable } from "./week-table";
import "./week.css";

const EntrySheet = dynamic(() => import("./entry-sheet").then((file) => file.EntrySheet));

/** Labour per piece first, then per person; then what has to be looked at. Asked for fresh: hours never rest on a device. */
export function WeekScreen() {
  const { session } = useSession();
  if (session.isSharedTablet) {
    return (
      <Notice title="Not on the shared tablet">
        Hours belong to one person each. Sign in on your own device to see yours.
      </Notice>
    );
  }
  return <WeekOfMember />;
}

function WeekOfMember() {
  const startsOn = useSearchParams().get("from") ?? undefined;
  const api = useApi();
  const seq = useFloor((_, floor) => floor.seq);
  const { data, error, refetch, fetchStatus, isPlaceholderData } = useQuery({
    ...api.hours.week.queryOptions({ startsOn }),
    placeholderData: keepPreviousData,
  });
  useEffect(() => {
    if (seq > 0) void refetch();
  }, [seq, refetch]);
  const isApart = fetchStatus === "paused" || (error !== null && !isAnswer(error));
  if (error && isAnswer(error)) return <Notice title="These hours do not open">{error.message}</Notice>;
  return (
    <div className="week">
      {isApart && (
        <Notice kind="device" title="Hours need signal" keys={<Key onPress={() => void refetch()}>Ask again</Key>}>
          They are asked for fresh and never kept on this device. What you time at the bench is kept here and goes out
          later.
        </Notice>
      )}
      {data && !isPlaceholderData ? <WeekOpened answer={data as WeekAnswer} /> : !isApart && <BareBoards count={4} />}
    </div>
  );
}

/** The server did answer, and said no. */
const isAnswer = (error: unknown): boolean =>
  error instanceof TRPCClientError && error.data !== undefined && error.data !== null;

type Opened = OpenedEntry | { act: "write" };

function WeekOpened({ answer }: { answer: WeekAnswer }) {
  const facts = useFloor((floor) => floor);
  const now = useNow(60_000);
  const me = useMe();
  const [opened, setOpened] = useState<Opened>();
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const maySettle = me.role === "owner" || me.role === "bookkeeper";
  const cells = useMemo(() => labourCells(answer.report), [answer]);
  const toSettle = useMemo(() => thingsToSettle(answer, now, zone), [answer, now, zone]);
  const week = useMemo((): WeekShown => {
    const numberById = new Map(answer.pieces.map(({ id, number }) => [id as string, number]));
    return {
      answer,
      facts,
      now,
      zone,
      entryById: new Map(answer.entries.map((entry) => [entry.id as string, entry])),
      member: (memberId) => facts.get("member", memberId),
      numberOf: (pieceId) => numberById.get(pieceId) ?? facts.get("piece", pieceId)?.number ?? "a piece",
      mayWrite: (entry) => maySettle || entry.memberId === me.memberId,
      maySettle,
      open: setOpened,
    };
  }, [answer, facts, now, zone, maySettle, me.memberId]);
  return (
    <WeekContext.Provider value={week}>
      <WeekHead />
      <div className="week-write">
        <Keys>
          <Key onPress={() => setOpened({ act: "write" })}>{maySettle ? "Type hours" : "Type my hours"}</Key>
          <Key onPress={() => window.print()}>Print the week</Key>
        </Keys>
      </div>
      {cells.length === 0 ? (
        <EmptyBoard title="No hours in this week yet." sentence="Start a timer at the bench, or type hours." />
      ) : (
        <>
          <WeekLabour cells={cells} />
          <WeekTable cells={cells} />
        </>
      )}
      <SettleList rows={toSettle} />
      {opened && <EntrySheet opened={opened} close={() => setOpened(undefined)} />}
    </WeekContext.Provider>
  );
}
