import { type ReactNode, useId } from "react";

export type PiecePartProps = { title: string; aside?: ReactNode; children: ReactNode };

/** A stretch of the traveller under its own heading. */
export function PiecePart({ title, aside, children }: PiecePartProps) {
  const id = useId();
  return (
    <section className="piece-part" aria-labelledby={id}>
      <div className="piece-part-head">
        <h2 id={id}>{title}</h2>
        {aside}
      </div>
      {children}
    </section>
  );
}
