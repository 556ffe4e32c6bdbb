"use client";
import { type KeyboardEvent, type ReactNode, useState } from "react";
import { OpenStripContext } from "./open-strip";

export type StripListProps = {
  label: string;
  /** The tag of the opened strip. Leave it out and the list remembers by itself. */
  openTag?: string | null;
  onOpenChange?: (tag: string | null) => void;
  /** `Strip`s, in the order in which they should stay. */
  children: ReactNode;
};

const walk: Record<string, (at: number, last: number) => number> = {
  ArrowDown: (at, last) => Math.min(at + 1, last),
  ArrowUp: (at) => Math.max(at - 1, 0),
  Home: () => 0,
  End: (_at, last) => last,
};

/** The strips of a chart: a list in which arrows walk from name to name, Enter opens one in place and Escape closes it. */
export function StripList({ label, openTag, onOpenChange, children }: StripListProps) {
  const [remembered, remember] = useState<string | null>(null);
  const current = openTag === undefined ? remembered : openTag;

  const walkNames = (event: KeyboardEvent<HTMLElement>) => {
    const step = walk[event.key];
    const names = [...event.currentTarget.querySelectorAll<HTMLElement>("[data-strip-name]")];
    const at = names.indexOf(event.target as HTMLElement);
    if (step === undefined || at < 0) return;
    event.preventDefault();
    names[step(at, names.length - 1)]?.focus();
  };

  const setOpenTag = (tag: string | null) => {
    remember(tag);
    onOpenChange?.(tag);
  };

  return (
    <OpenStripContext value={{ openTag: current, setOpenTag }}>
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari drops the role from lists styled without bullets */}
      <ul className="strips" role="list" aria-label={label} onKeyDown={walkNames}>
        {children}
      </ul>
    </OpenStripContext>
  );
}
