"use client";
import { useQuery } from "@tanstack/react-query";
import { useEffect, useState } from "react";
import type { InstantMs } from "~/core/units";
import { useFloor } from "~/device/react";
import { useApi } from "../api";
import { moment } from "../format";
import { Board } from "../kit/board";
import { Key } from "../kit/key";
import { useAct } from "../shell/act";
import { roleWords } from "../trade-words";

/** Invitations that could still be used. They never rest on a device. */
export function Invitations({ now, zone }: { now: InstantMs; zone: string }) {
  const api = useApi();
  const act = useAct();
  const seq = useFloor((_, floor) => floor.seq);
  const [withdrawn, setWithdrawn] = useState<ReadonlySet<string>>(new Set());
  const { data, isError, fetchStatus, refetch } = useQuery(api.people.invitations.queryOptions());
  useEffect(() => {
    if (seq > 0) void refetch();
  }, [seq, refetch]);
  const withdraw = async (invitationId: string) => {
    const proposed = await act(
      "withdraw-invitation",
      { invitationId },
      { said: "Taken back. The link opens nothing now." },
    );
    if (proposed.state === "kept") setWithdrawn((known) => new Set([...known, invitationId]));
  };
  if (!data) {
    return isError || fetchStatus === "paused" ? (
      <p className="members-note">Open invitations need signal to be listed.</p>
    ) : null;
  }
  const open = data.filter(({ id }) => !withdrawn.has(id));
  if (open.length === 0) return null;
  return (
    <Board title="Open invitations">
      <ul className="member-list">
        {open.map(({ id, forName, role, expiresAt }) => (
          <li key={id}>
            <div className="member-words">
              <b>{forName}</b>
              <p>
                as {roleWords[role]}, until {moment(expiresAt, now, zone)}
              </p>
            </div>
            <Key
              kind="take-back"
              onPress={() => void withdraw(id)}
              aria-label={`Take back the invitation for ${forName}`}
            >
              Take it back
            </Key>
          </li>
        ))}
      </ul>
    </Board>
  );
}
