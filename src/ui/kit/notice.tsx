import type { ReactNode } from "react";
import { Keys } from "./key";

export type NoticeProps = {
  /** Wants a person; stuck or refused; kept on this device; or simply to know. */
  kind?: "person" | "stuck" | "device" | "plain";
  title?: string;
  children?: ReactNode;
  keys?: ReactNode;
};

/** A bar on the page that says one thing, with the keys that answer it. */
export function Notice({ kind = "plain", title, children, keys }: NoticeProps) {
  return (
    <section className="notice" data-kind={kind}>
      {title !== undefined && <h3>{title}</h3>}
      {children}
      {keys && <Keys>{keys}</Keys>}
    </section>
  );
}
