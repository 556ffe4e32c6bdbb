"use client";
import type { ReactNode } from "react";
import { hoursAndMinutes } from "../format";
import { Board } from "../kit/board";
import { Ledger, type LedgerColumn, type LedgerRow } from "../kit/ledger";
import { MemberHere } from "./member-here";
import { useWeek } from "./week-context";
import { type LabourCell, labourByPerson, type StageOrShop, stageSums } from "./week-shown";

/** Person by person, each piece they worked on against the stages. It adds up along every line. */
export function WeekTable({ cells }: { cells: readonly LabourCell[] }) {
  const { numberOf } = useWeek();
  const sums = stageSums(cells);
  const columns: LedgerColumn[] = [
    { id: "who", words: "Who, on what" },
    ...[...sums.keys()].map((stage) => ({ id: stage, words: stage, isNumeric: true })),
    { id: "total", words: "Exact", isNumeric: true, isTotal: true },
  ];
  const line = (id: string, who: ReactNode, row: Sums, kind?: LedgerRow["kind"]): LedgerRow => ({
    id,
    kind,
    cells: {
      who,
      ...Object.fromEntries([...row.minutesByStage].map(([stage, minutes]) => [stage, hoursAndMinutes(minutes)])),
      total: hoursAndMinutes(row.minutes),
    },
  });
  const rows = labourByPerson(cells).flatMap((person) => [
    ...person.rows.map((row) =>
      line(
        `${person.memberId} ${row.pieceId ?? "shop"}`,
        <span className="week-who">
          <MemberHere memberId={person.memberId} /> {row.pieceId ? numberOf(row.pieceId) : "for the shop"}
        </span>,
        row,
      ),
    ),
    line(person.memberId, <MemberHere memberId={person.memberId} isNamed />, person, "sum"),
  ]);
  const minutes = [...sums.values()].reduce((sum, one) => sum + one, 0);
  return (
    <Board title="Hours by person">
      <Ledger
        caption="Hours by person, piece and stage"
        isCaptionHidden
        columns={columns}
        rows={rows}
        foot={line("all", "All", { minutesByStage: sums, minutes })}
      />
    </Board>
  );
}

type Sums = { minutesByStage: ReadonlyMap<StageOrShop, number>; minutes: number };
