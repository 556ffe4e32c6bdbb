"use client";
import dynamic from "next/dynamic";
import { useMemo, useState } from "react";
import { minuteMs } from "~/core/units";
import { useFloor, useNow } from "~/device/react";
import { openRooms } from "../floor/room-air";
import { EmptyBoard } from "../kit/empty-board";
import { Key } from "../kit/key";
import { SpanHead } from "../kit/span-head";
import { useMe } from "../shell/session-context";
import { BatchBoard } from "./batch-board";
import { CansPart } from "./cans-part";
import { gunHere, keepGun } from "./gun-setup";
import { MixingHead } from "./mixing-head";
import { MixingPrint } from "./mixing-print";
import type { MixingAct } from "./mixing-sheets";
import { mixingShown, type ProductChoice } from "./mixing-view";
import { plannedCoats } from "./planned-coats";
import { shelfShown } from "./shelf-view";
import "./mixing.css";

const MixingSheets = dynamic(() => import("./mixing-sheets").then((file) => file.MixingSheets));

/** How much of what to mix for the coats that come next, out of which cans, and how long it stays good. */
export function MixingScreen() {
  const facts = useFloor((floor) => floor);
  const now = useNow(minuteMs);
  // what was written down in this very minute has happened already
  const knownAt = now + minuteMs;
  const me = useMe();
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const planned = useMemo(() => plannedCoats(facts), [facts]);
  const [picked, setPicked] = useState<readonly string[]>();
  const [gun, setGun] = useState(gunHere);
  const [choiceBySheetId, setChoices] = useState<Readonly<Record<string, ProductChoice>>>({});
  const [roomPicked, setRoom] = useState<string>();
  const [act, setAct] = useState<MixingAct>();
  const rooms = openRooms(facts).filter((room) => !room.uses.includes("away"));
  const roomId = roomPicked ?? (rooms.find((room) => room.uses.includes("spray")) ?? rooms[0])?.id;
  const coats = planned.filter(({ coat, isNext }) => (picked ? picked.includes(coat.id) : isNext));
  const batches = mixingShown(facts, { coats, gun, choiceBySheetId, roomId }, knownAt, zone);
  const shelf = useMemo(() => shelfShown(facts, knownAt, zone), [facts, knownAt, zone]);
  const isHand = me.role === "owner" || me.role === "partner" || me.role === "helper";
  return (
    <div className="mixing">
      <div className="mixing-screen">
        <div className="mixing-part">
          <MixingHead
            facts={facts}
            coats={coats}
            gun={gun}
            roomId={roomId}
            now={now}
            zone={zone}
            hasPlanned={planned.length > 0}
            open={setAct}
          />
          {planned.length === 0 && (
            <EmptyBoard
              title="No coat is planned."
              sentence="Plan the coats of a piece on its sheet; what to mix for them stands here."
            >
              <Key kind="main" glove href="/floor">
                Go to the floor
              </Key>
            </EmptyBoard>
          )}
          {batches.map((shown) => (
            <BatchBoard
              key={shown.sheet.id}
              shown={shown}
              gun={gun}
              now={now}
              zone={zone}
              isHand={isHand}
              choose={(choice) =>
                setChoices((kept) => ({ ...kept, [shown.sheet.id]: { ...kept[shown.sheet.id], ...choice } }))
              }
              open={setAct}
            />
          ))}
        </div>
        <div className="mixing-part">
          <SpanHead words="Cans" />
          <CansPart shelf={shelf} isHand={isHand} open={setAct} />
          <SpanHead words="At the bench" />
          <div className="mixing-helpers">
            <Key glove onPress={() => setAct({ act: "cup" })}>
              Flow cup
            </Key>
            <Key glove onPress={() => setAct({ act: "comb" })}>
              Wet-film comb
            </Key>
            <Key glove onPress={() => setAct({ act: "shellac" })}>
              Shellac cut
            </Key>
          </div>
        </div>
      </div>
      <MixingPrint batches={batches} facts={facts} gun={gun} roomId={roomId} now={now} zone={zone} />
      {act && (
        <MixingSheets
          opened={act}
          facts={facts}
          planned={planned}
          chosen={coats.map(({ coat }) => coat.id)}
          choose={setPicked}
          gun={gun}
          setGun={(changed) => {
            setGun(changed);
            keepGun(changed);
          }}
          roomId={roomId}
          setRoom={setRoom}
          now={now}
          zone={zone}
          close={() => setAct(undefined)}
        />
      )}
    </div>
  );
}
