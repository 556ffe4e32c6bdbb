"use client";
import { useMemo, useState } from "react";
import { BareBoards } from "~/ui/kit/bare-boards";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Key } from "~/ui/kit/key";
import { Picks } from "~/ui/kit/picks";
import { SpanHead } from "~/ui/kit/span-head";
import { openRooms, roomDegrees } from "../floor/room-air";
import { useOutlooks } from "../floor/use-outlooks";
import { SafeBoard } from "./safe-board";
import "./safe.css";
import { safeSpans, safeViewHere } from "./safe-view";

const everyRoom = "every room";

/** For somebody in front of the rack: may I, now, later, tomorrow, never by waiting. */
export function SafeScreen() {
  const { facts, now, zone, outlooks, isHere } = useOutlooks();
  const [roomId, setRoomId] = useState(everyRoom);
  const pieces = useMemo(
    () =>
      outlooks
        .filter(({ piece }) => roomId === everyRoom || piece.roomId === roomId)
        .map((outlook) => safeViewHere(outlook, zone))
        .sort((one, other) => one.opensAt - other.opensAt || one.tag.localeCompare(other.tag)),
    [outlooks, roomId, zone],
  );
  if (!isHere) return <BareBoards count={4} />;
  const rooms = openRooms(facts).filter((room) => outlooks.some(({ piece }) => piece.roomId === room.id));
  return (
    <div className="safe">
      <Picks
        label="Room"
        chosen={roomId}
        onChoose={setRoomId}
        picks={[
          { id: everyRoom, words: "All", detail: String(outlooks.length) },
          ...rooms.map((room) => ({ id: room.id, words: room.name, detail: roomDegrees(facts, room, now) })),
        ]}
      />
      {safeSpans.map(({ id, words, kind }) => {
        const here = pieces.filter(({ span }) => span === id);
        if (here.length === 0) return null;
        return (
          <section key={id} aria-label={words} className="safe-span">
            <SpanHead words={words} kind={kind} />
            {here.map((piece) => (
              <SafeBoard key={piece.pieceId} piece={piece} />
            ))}
          </section>
        );
      })}
      {pieces.length === 0 && (
        <EmptyBoard title="Nothing stands here." sentence="Pieces are hung on the floor first.">
          <Key href="/floor">Go to the floor</Key>
        </EmptyBoard>
      )}
    </div>
  );
}
