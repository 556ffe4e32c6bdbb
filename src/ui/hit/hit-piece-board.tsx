import { ArrowRight } from "lucide-react";
import { Board } from "~/ui/kit/board";
import type { HitPiece } from "./hit-view";

/** What one piece lost: the date that it would have had, struck out, and the one that it has. */
export function HitPieceBoard({ piece }: { piece: HitPiece }) {
  return (
    <Board tag={piece.tag} href={`/piece?id=${piece.pieceId}`} title={piece.name} level={3}>
      <ul className="hit-lines">
        {piece.lines.map((line) => (
          <li key={line.subject} className="hit-line-of">
            <b>{line.subject}</b>
            <p className="hit-dates">
              {line.was !== undefined && (
                <>
                  <span className="sr-only">was </span>
                  <s>{line.was}</s>
                  <ArrowRight aria-hidden="true" size={28} strokeWidth={2.25} />
                  <span className="sr-only">, now </span>
                </>
              )}
              <strong data-barred={line.isBarred || undefined}>{line.now}</strong>
            </p>
            {line.note !== undefined && line.note !== "" && <p className="hit-note">{line.note}</p>}
          </li>
        ))}
      </ul>
      {piece.note !== undefined && <p className="hit-note">{piece.note}</p>}
    </Board>
  );
}
