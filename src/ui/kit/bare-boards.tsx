"use client";
import { useEffect, useState } from "react";
import { Tag } from "./tag";

/** After this long a person wonders whether anything still happens (common practice). */
const patienceMs = 3000;

export type BareBoardsProps = { tags: string[] } | { count: number };

/** While pieces are read: bare boards, with the tags if they are known. No spinner; after three seconds it says so. */
export function BareBoards(boards: BareBoardsProps) {
  const [isSlow, setSlow] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setSlow(true), patienceMs);
    return () => clearTimeout(timer);
  }, []);
  const tags = "tags" in boards ? boards.tags : Array.from({ length: boards.count }, (_, index) => `board ${index}`);
  return (
    <div className="bare-boards">
      <p role="status">{isSlow ? "Still looking." : <span className="sr-only">Looking.</span>}</p>
      {tags.map((tag) => (
        <div key={tag} className="bare-board" aria-hidden="true">
          {"tags" in boards ? <Tag number={tag} /> : <span className="tag bare-tag" />}
          <div className="wood-line" />
        </div>
      ))}
    </div>
  );
}
