"use client";
import { useState } from "react";
import { type Role, roles, skills } from "~/core/shop/entities/people";
import { currentRole } from "~/core/shop/roles";
import type { Member } from "~/core/shop/tables";
import { CheckField } from "../kit/check-field";
import { Key } from "../kit/key";
import { RadioField } from "../kit/radio-field";
import { Sheet } from "../kit/sheet";
import { WhySheet } from "../kit/why-sheet";
import { useAct } from "../shell/act";
import { roleDetail } from "./member-shown";

/** What the owner says about a member: role, skills, and the end. */
export function MemberSheet({ member, close }: { member: Member; close: () => void }) {
  const act = useAct();
  const [roleNow] = useState(() => currentRole(member));
  const [role, setRole] = useState<Role | undefined>(roleNow);
  const [can, setCan] = useState<readonly Member["skills"][number][]>(member.skills);
  const [isEnding, setEnding] = useState(false);
  const send = async () => {
    const isOther = JSON.stringify([...can].sort()) !== JSON.stringify([...member.skills].sort());
    if (isOther) {
      const body = { memberId: member.id, field: "skills", was: member.skills, value: can };
      if ((await act("edit-member", body, { said: "Skills noted." })).state === "refused") return;
    }
    if (role !== roleNow) {
      const proposed = await act(
        "change-role",
        { memberId: member.id, role },
        { said: `${member.name} is ${role} from now on.` },
      );
      if (proposed.state === "refused") return;
    }
    close();
  };
  if (isEnding) {
    return (
      <WhySheet
        title={`${member.name} leaves the shop`}
        words="End the membership"
        keyKind="take-back"
        close={close}
        onSay={(why) => void act("end-membership", { memberId: member.id, why }, { said: `${member.name} has left.` })}
      >
        Their tasks are free again and a running timer stops. Hours stay, and what was timed before the end still
        arrives.
      </WhySheet>
    );
  }
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={member.name}>
      <RadioField
        label="Role"
        choices={roles.map((id) => ({ id, words: id, detail: roleDetail[id] }))}
        chosen={role}
        onChoose={setRole}
      />
      <fieldset className="skills-field">
        <legend>Can</legend>
        {skills.map((skill) => (
          <CheckField
            key={skill}
            label={skill}
            isChecked={can.includes(skill)}
            onChange={(isSkilled) => setCan(skills.filter((one) => (one === skill ? isSkilled : can.includes(one))))}
          />
        ))}
      </fieldset>
      <Key kind="main" glove wide onPress={() => void send()}>
        Note it
      </Key>
      <Key kind="take-back" glove wide onPress={() => setEnding(true)}>
        End the membership
      </Key>
    </Sheet>
  );
}
