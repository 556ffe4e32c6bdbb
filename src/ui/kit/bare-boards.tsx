"use client";
import { useEffect, useState } from "react";

/** After this long a person wonders whether anything still happens (common practice). */
const patienceMs = 3000;

/** While pieces are read: bare boards. No spinner; after three seconds it says so. Needs nothing else of the kit, so it comes first. */
export function BareBoards({ count }: { count: number }) {
  const [isSlow, setSlow] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setSlow(true), patienceMs);
    return () => clearTimeout(timer);
  }, []);
  const boards = Array.from({ length: count }, (_, index) => `board ${index}`);
  return (
    <div className="bare-boards">
      <p role="status">{isSlow ? "Still looking." : <span className="sr-only">Looking.</span>}</p>
      {boards.map((board) => (
        <div key={board} className="bare-board" aria-hidden="true">
          <span className="tag bare-tag" />
          <div className="wood-line" />
        </div>
      ))}
    </div>
  );
}
