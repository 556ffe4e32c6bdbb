"use client";
import type { ReactNode } from "react";
import { Button, type ButtonProps } from "react-aria-components/Button";
import { Link } from "react-aria-components/Link";
import { classNames } from "./class-names";

export type KeyKind = "main" | "plain" | "stop" | "take-back" | "quiet";

export type KeyProps = {
  kind?: KeyKind;
  /** 56 px and bigger letters, for standing people with work in their hands. */
  glove?: boolean;
  wide?: boolean;
  /** A lucide icon of the subject; the words stay. */
  icon?: ReactNode;
  /** A key that leads to a place is a link. */
  href?: string;
  className?: string;
  children: ReactNode;
} & Pick<
  ButtonProps,
  | "onPress"
  | "type"
  | "name"
  | "value"
  | "form"
  | "slot"
  | "isPending"
  | "autoFocus"
  | "aria-label"
  | "aria-describedby"
>;

/** What a person presses. There is no disabled key: press it and be told why. */
export function Key({ kind = "plain", glove, wide, icon, href, className, children, ...press }: KeyProps) {
  const marks = { "data-kind": kind, "data-glove": glove || undefined, "data-wide": wide || undefined };
  if (href !== undefined) {
    return (
      <Link
        href={href}
        className={classNames("key", className)}
        aria-label={press["aria-label"]}
        aria-describedby={press["aria-describedby"]}
        {...marks}
      >
        {icon}
        {children}
      </Link>
    );
  }
  return (
    <Button className={classNames("key", className)} {...marks} {...press}>
      {icon}
      {children}
    </Button>
  );
}

export type KeysProps = {
  /** In a row that wraps, two halves side by side, or one under the other. */
  lay?: "row" | "pair" | "stack";
  children: ReactNode;
};

export function Keys({ lay = "row", children }: KeysProps) {
  return (
    <div className="keys" data-pair={lay === "pair" || undefined} data-stack={lay === "stack" || undefined}>
      {children}
    </div>
  );
}
