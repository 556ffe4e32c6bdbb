"use client";
/** This device and who is on it: light, what is kept here, the shared tablet, and the way out. */
import type { Role } from "~/core/shop/entities/people";
import { useFloor } from "~/device/react";
import { offlineAvailability } from "~/device/session";
import { Key, Keys } from "~/ui/kit/key";
import { LightSwitch } from "~/ui/kit/light-switch";
import { MemberMark } from "~/ui/kit/member-mark";
import { SpanHead } from "~/ui/kit/span-head";
import { useMe, useSession } from "~/ui/shell/session-context";
import { roleWords } from "~/ui/trade-words";
import { ChangePassword } from "./change-password";
import { KeptHere } from "./kept-here";
import { offlineWords } from "./offline-words";
import { OwnActs } from "./own-acts";
import { SharedTablet } from "./shared-tablet";
import { SignOut } from "./sign-out";
import { StaysHere } from "./stays-here";
import "./more.css";

const mayShare: readonly (Role | undefined)[] = ["owner", "partner"];

export function MoreScreen() {
  const { session } = useSession();
  const { memberId, name, role, isOnTablet } = useMe();
  const member = useFloor((facts) => (memberId ? facts.get("member", memberId) : undefined));
  const offline = offlineWords(offlineAvailability());
  return (
    <div className="more">
      <div className="more-part">
        <section className="more-body" aria-label="Who is here">
          <p className="more-who">
            {member && <MemberMark letter={member.markLetter} outline={member.markOutline} size="large" />}
            <span>
              {name ?? "Nobody picked"}
              <small>
                {[role && roleWords[role], session.shopName, isOnTablet && "shared tablet"].filter(Boolean).join(" · ")}
              </small>
            </span>
          </p>
          {(isOnTablet || mayShare.includes(role)) && <SharedTablet />}
          <Key glove wide href="/closing">
            Closing up
          </Key>
          <Key glove wide href="/hit">
            What was hit?
          </Key>
          <Keys lay="pair">
            <Key glove href="/rooms">
              Rooms
            </Key>
            <Key glove href="/shelf">
              Shelf
            </Key>
            <Key glove href="/mixing">
              Mixing sheet
            </Key>
            <Key glove href="/members">
              Members
            </Key>
          </Keys>
        </section>
        <KeptHere />
        {!isOnTablet && <OwnActs />}
      </div>
      <div className="more-part">
        <SpanHead words="Light" />
        <div className="more-body">
          <LightSwitch />
          <p className="why">Of this device alone: the phone in the sun and the wall in the dim corner differ.</p>
        </div>
        <SpanHead words="Without signal" />
        <div className="more-body">
          <h3>{offline.title}</h3>
          <p className="why">{offline.sentence}</p>
          <StaysHere />
        </div>
        <SpanHead words="Leaving" />
        <div className="more-body">
          {!isOnTablet && <ChangePassword />}
          <SignOut />
        </div>
      </div>
    </div>
  );
}
