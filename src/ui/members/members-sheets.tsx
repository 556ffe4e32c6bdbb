"use client";
import type { Member, Shop } from "~/core/shop/tables";
import { InviteSheet } from "./invite-sheet";
import { MemberSheet } from "./member-sheet";
import { OwnSheet } from "./own-sheet";
import { SettingsSheet } from "./settings-sheet";

export type MembersAct =
  | { act: "invite" }
  | { act: "change"; member: Member }
  | { act: "own"; member: Member }
  | { act: "settings"; shop: Shop };

export function MembersSheets({ opened, close }: { opened: MembersAct; close: () => void }) {
  switch (opened.act) {
    case "invite":
      return <InviteSheet close={close} />;
    case "change":
      return <MemberSheet member={opened.member} close={close} />;
    case "own":
      return <OwnSheet member={opened.member} close={close} />;
    case "settings":
      return <SettingsSheet shop={opened.shop} close={close} />;
  }
}
