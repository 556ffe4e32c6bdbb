"use client";
import type { ReactNode } from "react";
import { Sheet } from "~/ui/kit/sheet";

export type ActSheetProps = {
  title: string;
  tag?: string;
  name?: string;
  /** On the key that closes it without doing anything. */
  leaveWords?: string;
  onClose: () => void;
  children: ReactNode;
};

/** A sheet that is open as long as it is on the page. */
export function ActSheet({ onClose, children, ...head }: ActSheetProps) {
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && onClose()} {...head}>
      {children}
    </Sheet>
  );
}

/** What every sheet about a piece is given. */
export type PieceSheetProps = { pieceId: string; onClose: () => void };
