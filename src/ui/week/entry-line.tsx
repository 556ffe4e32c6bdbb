"use client";
import type { TimeEntry } from "~/core/shop/tables";
import { moment } from "../format";
import { Key, Keys } from "../kit/key";
import { Corrected } from "../kit/ledger";
import { listed } from "../trade-words";
import { entryDetail, entryHours, entryTimes, entryVersions, splitRuleWords } from "./entry-words";
import { useWeek } from "./week-context";

/** One entry: when, what, from where; under it whatever it was before, and who changed it why. */
export function EntryLine({ entry, pieceId }: { entry: TimeEntry; pieceId?: string }) {
  const { now, zone, mayWrite, open } = useWeek();
  const versions = entryVersions(entry, zone);
  const original = versions.find(({ hours }) => hours !== "")?.hours;
  const hours = entryHours(entry, now);
  const isOther = original !== undefined && original !== hours;
  return (
    <li className="entry-line">
      <div className="entry-head">
        <b>{entryTimes(entry, now, zone)}</b>
        <span className="entry-hours">{isOther ? <Corrected was={original} now={hours} /> : hours}</span>
      </div>
      <p>
        {entryDetail(entry)}
        <TaskOf entry={entry} pieceId={pieceId} />
        <SharedWith entry={entry} pieceId={pieceId} />
      </p>
      {entry.note && <p className="entry-note">“{entry.note}”</p>}
      {versions.length > 0 && <Versions entry={entry} />}
      {mayWrite(entry) && (
        <Keys>
          <Key
            onPress={() => open({ act: "correct", entryId: entry.id })}
            aria-label={`Correct ${entryTimes(entry, now, zone)}`}
          >
            Correct
          </Key>
          <Key
            kind="quiet"
            onPress={() => open({ act: "strike", entryId: entry.id })}
            aria-label={`Strike ${entryTimes(entry, now, zone)}`}
          >
            Strike
          </Key>
        </Keys>
      )}
    </li>
  );
}

function TaskOf({ entry, pieceId }: { entry: TimeEntry; pieceId?: string }) {
  const { facts } = useWeek();
  const titles = entry.subjects
    .filter((subject) => subject.pieceId === pieceId && subject.taskId !== undefined)
    .map(({ taskId }) => facts.get("task", taskId as string)?.title ?? "a task that has left the floor");
  return titles.length > 0 && <>, on: {listed(titles)}</>;
}

function SharedWith({ entry, pieceId }: { entry: TimeEntry; pieceId?: string }) {
  const { numberOf } = useWeek();
  const others = [...new Set(entry.subjects.map((subject) => subject.pieceId))].filter((id) => id !== pieceId);
  if (others.length === 0) return null;
  return (
    <>
      , shared {splitRuleWords[entry.splitRule]} with {listed(others.map(numberOf))}
    </>
  );
}

function Versions({ entry }: { entry: TimeEntry }) {
  const { now, zone, member } = useWeek();
  return (
    <ol className="entry-versions" aria-label="What it was before">
      {entryVersions(entry, zone).map(({ at, by, hours, times, why }) => (
        <li key={`${at} ${by}`}>
          Was {[times, hours].filter(Boolean).join(", ")}. Changed by {member(by)?.name ?? "somebody"},{" "}
          {moment(at, now, zone)}
          {why && `: ${why}`}.
        </li>
      ))}
    </ol>
  );
}
