"use client";
import { useState } from "react";
import { type Role, roles } from "~/core/shop/entities/people";
import { dayMs, type InstantMs } from "~/core/units";
import { useDevice, useFloor } from "~/device/react";
import { newSecret, sha256Of } from "~/device/secret";
import { moment } from "../format";
import { ChoiceField } from "../kit/choice-field";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { RadioField } from "../kit/radio-field";
import { Sheet } from "../kit/sheet";
import { TextField } from "../kit/text-field";
import { useAct } from "../shell/act";
import { joinAddress } from "./invitation-secret";
import { roleDetail } from "./member-shown";

const validDays = [1, 3, 7, 13] as const;

type Made = { address: string; forName: string; expiresAt: InstantMs };

/** Makes a link for one person and shows it once. */
export function InviteSheet({ close }: { close: () => void }) {
  const act = useAct();
  const device = useDevice();
  const [role, setRole] = useState<Role>("helper");
  const [forName, setForName] = useState("");
  const [days, setDays] = useState("7");
  const [error, setError] = useState<string>();
  const [made, setMade] = useState<Made>();
  const send = async () => {
    if (forName.trim() === "") return setError("Write whom it is for.");
    const secret = newSecret();
    const expiresAt = device.clock.now() + Number(days) * dayMs;
    const body = {
      invitationId: device.newId(),
      role,
      forName: forName.trim(),
      secretSha256: await sha256Of(secret),
      expiresAt,
    };
    const proposed = await act("invite", body);
    if (proposed.state === "kept")
      setMade({ address: joinAddress(location.origin, secret), forName: forName.trim(), expiresAt });
  };
  return (
    <Sheet
      isOpen
      onOpenChange={(isOpen) => !isOpen && close()}
      title="Invite somebody"
      leaveWords={made ? "Close" : "Leave it"}
    >
      {made ? (
        <MadeLink made={made} />
      ) : !globalThis.crypto?.subtle ? (
        <Notice kind="device" title="Not on this address">
          A secret can only be made on a secure address. Open the shop by its https address.
        </Notice>
      ) : (
        <>
          <TextField
            label="For whom"
            note="So that the list of open invitations says whose each is."
            value={forName}
            onChange={setForName}
            error={error}
            maxLength={60}
            autoComplete="off"
            isRequired
            glove
          />
          <RadioField
            label="As"
            choices={roles.map((id) => ({ id, words: id, detail: roleDetail[id] }))}
            chosen={role}
            onChoose={setRole}
          />
          <ChoiceField
            label="Good for"
            choices={validDays.map((count) => ({ id: String(count), words: count === 1 ? "1 day" : `${count} days` }))}
            chosen={days}
            onChoose={setDays}
          />
          <Key kind="main" glove wide onPress={() => void send()}>
            Make the link
          </Key>
        </>
      )}
    </Sheet>
  );
}

function MadeLink({ made }: { made: Made }) {
  const { clock } = useDevice();
  const zone = useFloor((facts) => facts.all("shop")[0]?.zone) ?? "UTC";
  const [isCopied, setCopied] = useState<boolean>();
  const copy = () =>
    navigator.clipboard.writeText(made.address).then(
      () => setCopied(true),
      () => setCopied(false),
    );
  return (
    <>
      <p>
        Give this to {made.forName}, and to nobody else: whoever opens it first is in. It is shown once, here. Good
        until {moment(made.expiresAt, clock.now(), zone)}.
      </p>
      <output className="join-address">{made.address}</output>
      <Key kind="main" glove wide onPress={() => void copy()}>
        Copy the link
      </Key>
      <p role="status">
        {isCopied === true && "Copied."}
        {isCopied === false && "This browser does not copy. Select the link and copy it by hand."}
      </p>
    </>
  );
}
