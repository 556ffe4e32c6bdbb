"use client";
import { duration, hoursAndMinutes } from "../format";
import { Board } from "../kit/board";
import { HoursBar, type HoursRow } from "../kit/hours-bar";
import { EntryLine } from "./entry-line";
import { MemberHere } from "./member-here";
import { useWeek, type WeekShown } from "./week-context";
import { type LabourCell, labourByPiece, type PieceLabour } from "./week-shown";

/** One row a tag: who, in which stage, the exact sum, and the entries behind it. */
export function WeekLabour({ cells }: { cells: readonly LabourCell[] }) {
  const week = useWeek();
  const rows = labourByPiece(cells);
  const minutes = rows.reduce((sum, row) => sum + row.minutes, 0);
  return (
    <Board title="Labour by piece" aside={<b className="week-total">{hoursAndMinutes(minutes)} in all</b>}>
      <HoursBar label="Labour by piece" rows={rows.map((row) => barRow(row, week))} />
      {minutes > 0 && <p className="week-note">Every figure is the sum of the same entries, to the minute.</p>}
    </Board>
  );
}

const barRow = ({ pieceId, minutes, parts, members, cells }: PieceLabour, { numberOf }: WeekShown): HoursRow => ({
  id: pieceId ?? "shop",
  ...(pieceId ? { tag: numberOf(pieceId), href: `/piece?id=${pieceId}` } : { words: "For the shop" }),
  members: members.map((member) => (
    <span key={member.memberId}>
      <MemberHere memberId={member.memberId} /> {hoursAndMinutes(member.minutes)}
    </span>
  )),
  parts: parts.map((part) => ({ ...part, hours: hoursAndMinutes(part.minutes) })),
  total: hoursAndMinutes(minutes),
  entries: <Entries cells={cells} />,
});

/** The drill-down: person and stage, and under them the entries that they are the sum of. */
function Entries({ cells }: { cells: readonly LabourCell[] }) {
  const { entryById } = useWeek();
  return cells.map((cell) => (
    <section key={`${cell.memberId} ${cell.stage} ${cell.workKind}`} className="week-cell">
      <h3>
        <MemberHere memberId={cell.memberId} isNamed /> {cell.stage === "shop" ? "for the shop" : cell.stage},{" "}
        {hoursAndMinutes(cell.minutes)}
      </h3>
      {cell.helpSeconds > 0 && (
        <p className="week-help">
          {cell.helpSeconds === cell.seconds ? "All of it" : duration(cell.helpSeconds)} help on somebody else’s task.
        </p>
      )}
      <ul>
        {cell.entryIds.map((entryId) => {
          const entry = entryById.get(entryId);
          return entry && <EntryLine key={entryId} entry={entry} pieceId={cell.pieceId} />;
        })}
      </ul>
    </section>
  ));
}
