"use client";
import { useQuery } from "@tanstack/react-query";
import { useEffect, useState } from "react";
import type { InstantMs } from "~/core/units";
import { useFloor } from "~/device/react";
import { useApi } from "../api";
import { Board } from "../kit/board";
import { Key, Keys } from "../kit/key";
import { useAct } from "../shell/act";
import { useNames } from "../shell/names";
import { type LateShown, lateWords } from "./late-words";

/** What somebody's device delivered after their place had ended: the owner says of each whether it was so. */
export function LateReports({ now, zone }: { now: InstantMs; zone: string }) {
  const api = useApi();
  const act = useAct();
  const names = useNames();
  const seq = useFloor((_, floor) => floor.seq);
  const facts = useFloor((floor) => floor);
  const [answered, setAnswered] = useState<ReadonlySet<string>>(new Set());
  const { data, refetch } = useQuery(api.people.lateReports.queryOptions());
  useEffect(() => {
    if (seq > 0) void refetch();
  }, [seq, refetch]);
  const answer = async ({ of, row }: LateShown, said: "yes" | "no") => {
    const proposed = await act(
      "answer-late",
      { of, id: row.id, answer: said },
      { said: said === "yes" ? "Counts from now on." : "Does not count. It stays in the history." },
    );
    if (proposed.state === "kept") setAnswered((known) => new Set([...known, row.id]));
  };
  const waiting = (data ?? []).filter(({ row }) => !answered.has(row.id)) as LateShown[];
  if (waiting.length === 0) return null;
  return (
    <Board title="Delivered after the end" aside={<span>{waiting.length}</span>}>
      <p className="members-note">
        Made before somebody’s place here ended, and delivered after it. Hours wait in Week’s end; of these say whether
        each was so.
      </p>
      <ul className="member-list">
        {waiting.map((late) => {
          const pieceId = "pieceId" in late.row ? late.row.pieceId : undefined;
          const number = (pieceId && facts.get("piece", pieceId)?.number) || "A piece";
          const { title, sentence, yes, no } = lateWords(late, names, number, now, zone);
          return (
            <li key={late.row.id}>
              <div className="member-words">
                <b>{title}</b>
                <p>{sentence}</p>
              </div>
              <Keys>
                <Key onPress={() => void answer(late, "yes")} aria-label={`${yes}. ${title}`}>
                  {yes}
                </Key>
                <Key kind="take-back" onPress={() => void answer(late, "no")} aria-label={`${no}. ${title}`}>
                  {no}
                </Key>
              </Keys>
            </li>
          );
        })}
      </ul>
    </Board>
  );
}
