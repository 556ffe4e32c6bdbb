"use client";
import { useState } from "react";
import type { Member } from "~/core/shop/tables";
import { MarkField } from "../entrance/mark-field";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { Sheet } from "../kit/sheet";
import { TextField } from "../kit/text-field";
import { useAct } from "../shell/act";

/** One's own name and mark; and the way out of the shop, asked twice. */
export function OwnSheet({ member, close }: { member: Member; close: () => void }) {
  const act = useAct();
  const [name, setName] = useState(member.name);
  const [mark, setMark] = useState({ letter: member.markLetter, outline: member.markOutline });
  const [isLeaving, setLeaving] = useState(false);
  const send = async () => {
    const changes = [
      { field: "name", was: member.name, value: name.trim() },
      { field: "markLetter", was: member.markLetter, value: mark.letter.trim() },
      { field: "markOutline", was: member.markOutline, value: mark.outline },
    ].filter(({ was, value }) => was !== value);
    for (const change of changes) {
      const proposed = await act(
        "edit-member",
        { memberId: member.id, ...change },
        { said: "Changed, on every strip." },
      );
      if (proposed.state === "refused") return;
    }
    close();
  };
  const leave = async () => {
    const proposed = await act("leave", {}, { said: "You have left. Hours from before it stay." });
    if (proposed.state !== "refused") close();
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="Your name and mark">
      <TextField label="Your name" value={name} onChange={setName} maxLength={60} autoComplete="name" isRequired />
      <MarkField value={mark} onChange={setMark} />
      <Key kind="main" glove wide onPress={() => void send()}>
        Change it
      </Key>
      {isLeaving ? (
        <Notice
          kind="stuck"
          title="Leave this shop?"
          keys={
            <Key kind="take-back" glove onPress={() => void leave()}>
              Yes, I leave
            </Key>
          }
        >
          Your tasks are free again, your timer stops, and this device no longer opens the floor. Only an invitation
          brings you back.
        </Notice>
      ) : (
        <Key kind="take-back" glove wide onPress={() => setLeaving(true)}>
          Leave the shop
        </Key>
      )}
    </Sheet>
  );
}
