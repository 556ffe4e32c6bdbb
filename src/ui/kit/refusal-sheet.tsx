"use client";
import type { ReactNode } from "react";
import { Film, type FilmProps } from "./film";
import { Keys } from "./key";
import { Plate, type PlateProps } from "./plate";
import { Sheet, type SheetProps } from "./sheet";

export type RefusalSheetProps = Pick<
  SheetProps,
  "isOpen" | "onOpenChange" | "title" | "tag" | "name" | "leaveWords"
> & {
  /** The earliest time, or the verb that opens it when waiting will not; nothing where neither is the matter. */
  plate?: PlateProps;
  film?: FilmProps;
  found: ReactNode;
  /** Left out where what was found says it. */
  why?: ReactNode;
  instead: ReactNode;
  /** `Key`s: remind me, I tested it by hand. "Leave it" is always there. */
  keys?: ReactNode;
};

/** The act as a title beginning "Not yet" or "No", until when, and found, why and instead. */
export function RefusalSheet({ plate, film, found, why, instead, keys, ...sheet }: RefusalSheetProps) {
  return (
    <Sheet {...sheet} place="middle">
      {plate && <Plate {...plate} size="large" />}
      {film && <Film {...film} size="sheet" />}
      <dl className="facts">
        <div>
          <dt>Found</dt>
          <dd>{found}</dd>
        </div>
        {why && (
          <div>
            <dt>Why</dt>
            <dd>{why}</dd>
          </div>
        )}
        <div>
          <dt>Instead</dt>
          <dd>{instead}</dd>
        </div>
      </dl>
      {keys && <Keys lay="stack">{keys}</Keys>}
    </Sheet>
  );
}
