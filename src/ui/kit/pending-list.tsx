import type { ReactNode } from "react";
import { Tag } from "./tag";
import { Tape } from "./tape";

export type PendingChange = {
  id: string;
  tag?: string;
  href?: string;
  /** "1st, 17:40". */
  place: string;
  /** What was done: "Claim Wed AM slot, coat 2". */
  act: string;
  /** What this device last knew: "Free when this phone last heard, 15:00." */
  note?: string;
};

/** Kept on this device, in the order in which the changes will be sent. */
export function PendingList({ changes, keyOf }: { changes: PendingChange[]; keyOf?: (id: string) => ReactNode }) {
  return (
    <ol className="pending-list">
      {changes.map(({ id, tag, href, place, act, note }) => (
        <li key={id}>
          <div className="board-head">
            {tag !== undefined && <Tag number={tag} href={href} />}
            <Tape place={place} />
          </div>
          <b>{act}</b>
          {note !== undefined && <p>{note}</p>}
          {keyOf?.(id)}
        </li>
      ))}
    </ol>
  );
}
