import type { ReactNode } from "react";
import { Keys } from "./key";
import { Tag } from "./tag";

export type RefusedBarProps = {
  tag?: string;
  href?: string;
  /** What was asked, and that it was not: "Wed AM went to K-208". */
  title: string;
  /** Decided by whom, what you have instead, and that nothing logged was lost. */
  children: ReactNode;
  keys?: ReactNode;
};

/** The answer was no, after the change had waited on this device. */
export function RefusedBar({ tag, href, title, children, keys }: RefusedBarProps) {
  return (
    <section className="refused-bar">
      <div className="refused-head">
        {tag !== undefined && <Tag number={tag} href={href} />}
        <p className="bar-title">{title}</p>
      </div>
      <div>{children}</div>
      {keys && <Keys>{keys}</Keys>}
    </section>
  );
}
