"use client";
import { Link } from "react-aria-components/Link";

export type TagProps = { number: string; href?: string };

/** The piece itself. With an address it is the link to the piece's sheet. */
export function Tag({ number, href }: TagProps) {
  if (href === undefined) return <span className="tag">{number}</span>;
  return (
    <Link href={href} className="tag-link">
      <span className="tag">{number}</span>
    </Link>
  );
}
