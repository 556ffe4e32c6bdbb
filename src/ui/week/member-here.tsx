"use client";
import { MemberMark } from "../kit/member-mark";
import { useWeek } from "./week-context";

/** A member's mark, with the name beside it where there is room. */
export function MemberHere({ memberId, isNamed = false }: { memberId: string; isNamed?: boolean }) {
  const member = useWeek().member(memberId);
  if (!member) return isNamed ? <span>somebody</span> : null;
  return (
    <span className="week-member">
      <MemberMark letter={member.markLetter} outline={member.markOutline} name={member.name} size="small" />
      {isNamed && <span aria-hidden="true">{member.name}</span>}
    </span>
  );
}
