"use client";
import { useState } from "react";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { moment } from "../format";
import { Board } from "../kit/board";
import { Key } from "../kit/key";
import { WhySheet } from "../kit/why-sheet";
import { useAct } from "../shell/act";
import { forgetWritten, useWrittenHere, type Written } from "./written-here";

type WrittenListProps = { facts: Facts; now: InstantMs; zone: string };

/** The last readings and files of this device, each of which can be taken back with a reason. */
export function WrittenList({ facts, now, zone }: WrittenListProps) {
  const act = useAct();
  const [opened, setOpened] = useState<Written>();
  const rows = useWrittenHere().filter((row) => facts.get("room", row.roomId) !== undefined);
  if (rows.length === 0) return null;
  const takeBack = async (row: Written, why: string) => {
    const proposed =
      row.kind === "reading"
        ? await act("retract-reading", { readingId: row.id, why }, { said: "Reading taken back." })
        : await act("retract-import", { importId: row.id, why }, { said: "The whole file is taken back." });
    if (proposed.state === "kept") forgetWritten(row.id);
  };
  return (
    <Board title="Written on this device">
      <ul className="written-list">
        {rows.map((row) => (
          <li key={row.id}>
            <span>
              <b>{facts.get("room", row.roomId)?.name}</b>, {row.words}, {moment(row.at, now, zone)}
            </span>
            <Key
              kind="take-back"
              onPress={() => setOpened(row)}
              aria-label={`Take back ${row.words}, ${moment(row.at, now, zone)}`}
            >
              Take it back
            </Key>
          </li>
        ))}
      </ul>
      {opened && (
        <WhySheet
          title={opened.kind === "reading" ? "Take the reading back" : "Take the whole file back"}
          words="Take it back"
          keyKind="take-back"
          close={() => setOpened(undefined)}
          onSay={(why) => void takeBack(opened, why)}
        >
          {opened.words}. It no longer counts for any film; the ledger keeps that it was written.
        </WhySheet>
      )}
    </Board>
  );
}
