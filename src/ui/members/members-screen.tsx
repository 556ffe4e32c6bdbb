"use client";
import dynamic from "next/dynamic";
import { useMemo, useState } from "react";
import { useFloor, useNow } from "~/device/react";
import { Board } from "../kit/board";
import { Key, Keys } from "../kit/key";
import { useMe, useSession } from "../shell/session-context";
import { MemberRow } from "./member-row";
import { membersShown } from "./member-shown";
import type { MembersAct } from "./members-sheets";
import { ShopFacts } from "./shop-facts";
import "./members.css";

const MembersSheets = dynamic(() => import("./members-sheets").then((file) => file.MembersSheets));
const Invitations = dynamic(() => import("./invitations").then((file) => file.Invitations));
const LateReports = dynamic(() => import("./late-reports").then((file) => file.LateReports));

/** Who is in this shop, as what, and what each can do. */
export function MembersScreen() {
  const facts = useFloor((floor) => floor);
  const now = useNow(60_000);
  const me = useMe();
  const { session } = useSession();
  const [opened, setOpened] = useState<MembersAct>();
  const { here, left } = useMemo(() => membersShown(facts.all("member"), me.memberId), [facts, me.memberId]);
  const shop = facts.all("shop")[0];
  const isOwner = me.role === "owner" && !session.isSharedTablet;
  const zone = shop?.zone ?? "UTC";
  return (
    <div className="members">
      <Board title="In this shop" aside={<span>{here.length}</span>}>
        <ul className="member-list">
          {here.map((shown) => (
            <MemberRow key={shown.member.id} shown={shown} now={now} zone={zone}>
              <Keys>
                {shown.isMe && !session.isSharedTablet && (
                  <Key onPress={() => setOpened({ act: "own", member: shown.member })}>Your name and mark</Key>
                )}
                {isOwner && (
                  <Key
                    onPress={() => setOpened({ act: "change", member: shown.member })}
                    aria-label={`Role and skills of ${shown.member.name}`}
                  >
                    Role and skills
                  </Key>
                )}
              </Keys>
            </MemberRow>
          ))}
        </ul>
        {isOwner && (
          <Keys>
            <Key kind="main" glove onPress={() => setOpened({ act: "invite" })}>
              Invite somebody
            </Key>
          </Keys>
        )}
      </Board>
      {isOwner && left.length > 0 && <LateReports now={now} zone={zone} />}
      {isOwner && <Invitations now={now} zone={zone} />}
      {left.length > 0 && (
        <Board title="Have left">
          <ul className="member-list">
            {left.map((shown) => (
              <MemberRow key={shown.member.id} shown={shown} now={now} zone={zone} />
            ))}
          </ul>
        </Board>
      )}
      {shop && <ShopFacts shop={shop} onChange={isOwner ? () => setOpened({ act: "settings", shop }) : undefined} />}
      {opened && <MembersSheets opened={opened} close={() => setOpened(undefined)} />}
    </div>
  );
}
