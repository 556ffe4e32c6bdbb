import type { ReactNode } from "react";
import type { InstantMs } from "~/core/units";
import { dayName } from "../format";
import { MemberMark } from "../kit/member-mark";
import { listed } from "../trade-words";
import type { MemberShown } from "./member-shown";

type MemberRowProps = { shown: MemberShown; now: InstantMs; zone: string; children?: ReactNode };

/** "Mon 26 Oct", with the year when it is not this one. */
export function dayWithYear(at: InstantMs, now: InstantMs, zone: string): string {
  const year = (instant: InstantMs) =>
    new Intl.DateTimeFormat("en-GB", { timeZone: zone, year: "numeric" }).format(instant);
  return year(at) === year(now) ? dayName(at, zone) : `${dayName(at, zone)} ${year(at)}`;
}

export function MemberRow({ shown, now, zone, children }: MemberRowProps) {
  const { member, role, sinceAt, leftAt, isMe } = shown;
  const since = sinceAt !== undefined && `since ${dayWithYear(sinceAt, now, zone)}`;
  const until = leftAt !== undefined && `left ${dayWithYear(leftAt, now, zone)}`;
  return (
    <li>
      <MemberMark
        letter={member.markLetter}
        outline={member.markOutline}
        name={`Mark of ${member.name}`}
        size="large"
      />
      <div className="member-words">
        <b>
          {member.name}
          {isMe && <small> you</small>}
        </b>
        <p>{[role, since, until].filter(Boolean).join(", ")}</p>
        {leftAt === undefined && member.skills.length > 0 && <p>Can {listed(member.skills)}.</p>}
      </div>
      {children}
    </li>
  );
}
