"use client";
import dynamic from "next/dynamic";
import { useSearchParams } from "next/navigation";
import { useMemo, useState } from "react";
import { shopDayAt } from "~/core/calendar";
import { whatWasHit } from "~/core/cure/hit";
import type { Picture } from "~/core/cure/picture";
import type { Facts } from "~/core/shop/facts";
import { floorHands, partners } from "~/core/shop/roles";
import type { Room } from "~/core/shop/tables";
import { hourMs, type InstantMs } from "~/core/units";
import { useFloor, useNow } from "~/device/react";
import { justNow } from "~/ui/floor/acts/typed-when";
import { pictureHere } from "~/ui/floor/picture-here";
import { BareBoards } from "~/ui/kit/bare-boards";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Key } from "~/ui/kit/key";
import { Picks } from "~/ui/kit/picks";
import { useMe } from "~/ui/shell/session-context";
import { HitChart } from "./hit-chart";
import { HitFound } from "./hit-found";
import { readRooms, roomFirst, type Span, type SpanChoice, spanChoices, spanWords } from "./hit-spans";
import { hitView } from "./hit-view";
import { SpanField, spanTyped, type TypedSpan } from "./span-field";
import "./hit.css";

const PromiseSheet = dynamic(() => import("~/ui/floor/acts/promise-sheet").then((module) => module.PromiseSheet), {
  ssr: false,
});

const typedId = "typed";

/** The lowest that something lying or glued in this room bears: what the chart draws a line at. */
const limitIn = (pictures: readonly Picture[], room: Room): number | undefined => {
  const sheets = pictures
    .filter(({ piece }) => piece.roomId === room.id)
    .flatMap(({ joints, coats, sheetById }) =>
      [...joints, ...coats.filter((coat) => coat.applied && !coat.removed)].flatMap(
        ({ sheetId }) => sheetById.get(sheetId) ?? [],
      ),
    );
  const limits = sheets.map(({ chalkCelsius, minimumCelsius }) => chalkCelsius ?? minimumCelsius);
  return limits.length === 0 ? undefined : Math.max(...limits);
};

/** A cold night, an open door, a silent logger: what did it cost, who must be told, what must be looked at? */
export function HitScreen() {
  const facts = useFloor((floor) => floor);
  const seq = useFloor((_, floor) => floor.seq);
  const now = useNow(60_000);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const asked = useSearchParams().get("room");
  const first = useMemo(() => roomFirst(facts, now, zone), [facts, now, zone]);
  const [chosen, setRoomId] = useState<string>();
  const rooms = readRooms(facts);
  const room = rooms.find(({ id }) => id === (chosen ?? asked)) ?? first;
  if (seq === 0) return <BareBoards count={4} />;
  if (!room)
    return (
      <EmptyBoard title="No room is read here." sentence="Without a thermometer nobody can say what was hit.">
        <Key kind="main" glove href="/rooms">
          To the rooms
        </Key>
      </EmptyBoard>
    );
  return (
    <div className="hit">
      <Picks
        label="Room"
        chosen={room.id}
        onChoose={setRoomId}
        picks={rooms.map(({ id, name }) => ({ id, words: name }))}
      />
      <InRoom key={room.id} facts={facts} room={room} now={now} zone={zone} />
    </div>
  );
}

type InRoomProps = { facts: Facts; room: Room; now: InstantMs; zone: string };

function InRoom({ facts, room, now, zone }: InRoomProps) {
  const me = useMe();
  const choices = useMemo(() => spanChoices(facts, room, now, zone), [facts, room, now, zone]);
  const [chosen, setChosen] = useState<SpanChoice["id"]>();
  const [typed, setTyped] = useState<TypedSpan>(() => {
    const start = justNow(shopDayAt(now - 12 * hourMs, zone));
    return { from: { ...start, isEarlier: true }, to: { ...start, isEarlier: true, choice: "second" } };
  });
  const [movingOf, setMovingOf] = useState<string>();
  const isTyped = chosen === typedId;
  const choice = choices.find(({ id }) => id === chosen) ?? choices[0];
  const span: Span | undefined = isTyped ? spanTyped(typed, now, zone) : choice;
  const pictures = useMemo(() => facts.all("piece").flatMap((piece) => pictureHere(facts, piece.id) ?? []), [facts]);
  const [fromAt, toAt] = [span?.fromAt, span?.toAt];
  const view = useMemo(() => {
    if (fromAt === undefined || toAt === undefined) return undefined;
    const promises = facts.all("promise");
    const found = whatWasHit({ pictures, promises, roomId: room.id, fromAt, toAt, at: now });
    return hitView(found, fromAt, { facts, now, zone });
  }, [facts, pictures, room.id, fromAt, toAt, now, zone]);
  const has = (roles: readonly string[]) => me.role !== undefined && roles.includes(me.role);
  return (
    <>
      <div className="hit-head">
        <Picks
          label="Which hours"
          chosen={isTyped ? typedId : (choice?.id ?? typedId)}
          onChoose={setChosen}
          picks={[
            ...choices.map(({ id, words, detail }) => ({ id, words, ...(detail !== undefined && { detail }) })),
            { id: typedId, words: "Other hours" },
          ]}
        />
        {isTyped && <SpanField typed={typed} onChange={setTyped} now={now} zone={zone} />}
        {span && (
          <>
            <h2 className="hit-title">
              {room.name}, {spanWords(span, zone)}
            </h2>
            <HitChart
              air={facts.air(room.id, now)}
              span={span}
              now={now}
              limitCelsius={limitIn(pictures, room)}
              zone={zone}
            />
          </>
        )}
      </div>
      {view && (
        <HitFound
          view={view}
          mayAsk={has(floorHands)}
          mayPromise={has(partners) && !me.isOnTablet}
          onMove={setMovingOf}
        />
      )}
      {movingOf !== undefined && <PromiseSheet pieceId={movingOf} onClose={() => setMovingOf(undefined)} />}
    </>
  );
}
