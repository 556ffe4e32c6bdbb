"use client";
import { Board } from "../kit/board";
import { Key, Keys } from "../kit/key";
import { entryTimes } from "./entry-words";
import { MemberHere } from "./member-here";
import { settleWords, type ToSettle } from "./to-settle";
import { useWeek } from "./week-context";

/** Timers, overlaps and entries that somebody has to look at, each with the keys that settle it. */
export function SettleList({ rows }: { rows: readonly ToSettle[] }) {
  return (
    <Board title="To settle" aside={rows.length > 0 && <b className="week-total">{rows.length}</b>}>
      {rows.length === 0 ? (
        <p>Nothing. No timer runs, nothing overlaps, and every entry is counted.</p>
      ) : (
        <ul className="settle-list">
          {rows.map((row) => (
            <SettleRow key={row.id} row={row} />
          ))}
        </ul>
      )}
    </Board>
  );
}

function SettleRow({ row }: { row: ToSettle }) {
  const { entryById, now, zone, mayWrite, maySettle, open } = useWeek();
  const { sort, suggestedEndAt } = row;
  const entries = row.entryIds.flatMap((entryId) => entryById.get(entryId) ?? []).filter(mayWrite);
  const correctWords = sort === "forgotten" ? "Say when it stopped" : "Correct it";
  return (
    <li data-sort={sort}>
      <b className="settle-sort">{settleWords[sort]}</b>
      <p>
        <MemberHere memberId={row.memberId} isNamed />: {row.found}.
      </p>
      <p className="why">{row.ask}</p>
      <Keys>
        {sort === "needs-word" && maySettle && entries.length > 0 && (
          <Key kind="main" onPress={() => open({ act: "confirm", entryId: row.entryIds[0] as string })}>
            Count it
          </Key>
        )}
        {entries.map((entry) => (
          <Key key={entry.id} onPress={() => open({ act: "correct", entryId: entry.id, suggestedEndAt })}>
            {row.entryIds.length === 1 ? correctWords : `Correct ${entryTimes(entry, now, zone)}`}
          </Key>
        ))}
        {sort === "needs-word" &&
          entries.map((entry) => (
            <Key key={entry.id} kind="quiet" onPress={() => open({ act: "strike", entryId: entry.id })}>
              Strike it
            </Key>
          ))}
      </Keys>
    </li>
  );
}
