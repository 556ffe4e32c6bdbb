"use client";
import type { ReactNode } from "react";
import { Dialog } from "react-aria-components/Dialog";
import { Heading } from "react-aria-components/Heading";
import { Modal, ModalOverlay } from "react-aria-components/Modal";
import { Key } from "./key";
import { Tag } from "./tag";

export type SheetProps = {
  isOpen: boolean;
  onOpenChange: (isOpen: boolean) => void;
  title: string;
  tag?: string;
  /** The piece's name, beside its tag. */
  name?: string;
  /** On a laptop a sheet lies beside the page; only a refusal lies in the middle. */
  place?: "beside" | "middle";
  /** The words of the quiet key that closes it. */
  leaveWords?: string;
  children: ReactNode;
};

/** Rises from the bottom on phones, with an ink edge. Escape, a press outside and the quiet key at its end close it. */
export function Sheet({ place = "beside", leaveWords = "Leave it", ...sheet }: SheetProps) {
  const { isOpen, onOpenChange, title, tag, name, children } = sheet;
  return (
    <ModalOverlay className="sheet-scrim" data-place={place} isOpen={isOpen} onOpenChange={onOpenChange} isDismissable>
      <Modal className="sheet">
        <Dialog className="sheet-board">
          {tag !== undefined && (
            <div className="sheet-piece">
              <Tag number={tag} />
              {name !== undefined && <span>{name}</span>}
            </div>
          )}
          <Heading slot="title" level={2}>
            {title}
          </Heading>
          {children}
          <Key kind="quiet" glove wide onPress={() => onOpenChange(false)}>
            {leaveWords}
          </Key>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
