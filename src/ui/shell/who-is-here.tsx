"use client";
import { currentRole } from "~/core/shop/roles";
import { useFloor } from "~/device/react";
import { Key, Keys } from "../kit/key";
import { MemberMark } from "../kit/member-mark";
import { useSession } from "./session-context";

/** The shared tablet asks first whose hands these are: hours land on whoever picked themselves. */
export function WhoIsHere() {
  const { pick } = useSession();
  const people = useFloor((facts) =>
    facts.all("member").filter((member) => ["owner", "partner", "helper"].includes(currentRole(member) ?? "")),
  );
  return (
    <section aria-labelledby="who" className="who-is-here">
      <h2 id="who">Who is here?</h2>
      <p>What you do on this tablet is written under your name. It takes reports and claims.</p>
      <Keys lay="stack">
        {people.map((member) => (
          <Key
            key={member.id}
            glove
            wide
            icon={<MemberMark letter={member.markLetter} outline={member.markOutline} size="face" />}
            onPress={() => pick(member.id)}
          >
            {member.name}
          </Key>
        ))}
      </Keys>
    </section>
  );
}
