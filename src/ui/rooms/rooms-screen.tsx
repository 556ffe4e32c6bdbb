"use client";
import dynamic from "next/dynamic";
import { useMemo, useState } from "react";
import { useFloor, useNow } from "~/device/react";
import { EmptyBoard } from "../kit/empty-board";
import { Key, Keys } from "../kit/key";
import { useNames } from "../shell/names";
import { useMe } from "../shell/session-context";
import { RoomBoard } from "./room-board";
import type { RoomAct } from "./room-sheets";
import { roomsShown } from "./room-shown";
import { WrittenList } from "./written-list";
import "./rooms.css";

const RoomSheets = dynamic(() => import("./room-sheets").then((file) => file.RoomSheets));

/** Where the pieces stand, in which air, and how long ago somebody looked. */
export function RoomsScreen() {
  const facts = useFloor((floor) => floor);
  const now = useNow(60_000);
  const me = useMe();
  const names = useNames();
  const rooms = useMemo(() => roomsShown(facts, now), [facts, now]);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const [act, setAct] = useState<RoomAct>();
  const isPartner = me.role === "owner" || me.role === "partner";
  const mayRead = isPartner || me.role === "helper";
  return (
    <div className="rooms">
      {rooms.length === 0 ? (
        <EmptyBoard title="No room yet." sentence="A piece is always in one: the spray room, the loft, the store.">
          {isPartner && (
            <Key kind="main" glove onPress={() => setAct({ act: "add" })}>
              Add the first room
            </Key>
          )}
        </EmptyBoard>
      ) : (
        rooms.map((shown) => (
          <RoomBoard
            key={shown.room.id}
            shown={shown}
            now={now}
            zone={zone}
            names={names}
            keys={
              <Keys>
                {mayRead && !shown.isAway && (
                  <Key kind="main" glove onPress={() => setAct({ act: "read", room: shown.room })}>
                    Write a reading
                  </Key>
                )}
                {isPartner && !shown.isAway && (
                  <Key glove onPress={() => setAct({ act: "forecast", shown })}>
                    Type a forecast
                  </Key>
                )}
                {isPartner && !shown.isAway && (
                  <Key glove onPress={() => setAct({ act: "import", room: shown.room })}>
                    Logger’s file
                  </Key>
                )}
                {isPartner && (
                  <Key kind="quiet" glove onPress={() => setAct({ act: "edit", room: shown.room })}>
                    Change the room
                  </Key>
                )}
              </Keys>
            }
          />
        ))
      )}
      {isPartner && rooms.length > 0 && (
        <div className="rooms-foot">
          <Key glove onPress={() => setAct({ act: "add" })}>
            Add a room
          </Key>
        </div>
      )}
      {isPartner && <WrittenList facts={facts} now={now} zone={zone} />}
      {act && <RoomSheets opened={act} now={now} zone={zone} close={() => setAct(undefined)} />}
    </div>
  );
}
