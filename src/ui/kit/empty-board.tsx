import type { ReactNode } from "react";

export type EmptyBoardProps = {
  /** "No piece hangs here yet." */
  title: string;
  /** One sentence on how to begin. */
  sentence?: string;
  /** One key. */
  children?: ReactNode;
};

export function EmptyBoard({ title, sentence, children }: EmptyBoardProps) {
  return (
    <div className="empty-board">
      <b>{title}</b>
      <div className="wood-line" />
      {sentence !== undefined && <p>{sentence}</p>}
      {children}
    </div>
  );
}
