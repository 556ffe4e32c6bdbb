import type { ReactNode } from "react";
import { Keys } from "./key";

export type NoticeProps = {
  /** Wants a person; stuck or refused; kept on this device; or simply to know. */
  kind?: "person" | "stuck" | "device" | "plain";
  title?: string;
  children?: ReactNode;
  keys?: ReactNode;
};

/** A bar that says one thing, with the keys that answer it. Its title is no heading: it stands wherever it is needed. */
export function Notice({ kind = "plain", title, children, keys }: NoticeProps) {
  return (
    <section className="notice" data-kind={kind}>
      {title !== undefined && <p className="bar-title">{title}</p>}
      {children}
      {keys && <Keys>{keys}</Keys>}
    </section>
  );
}
