"use client";
import { useState } from "react";
import { gate } from "~/core/cure/gate";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { gateTimeWords } from "../gate-words";
import { pictureHere } from "../picture-here";
import { openRooms, roomDegrees } from "../room-air";
import { ActSheet, type PieceSheetProps } from "./act-sheet";
import { GateSaidNo } from "./gate-said-no";
import { usePieceAct } from "./piece-act";
import { TestSheet } from "./test-sheet";
import { justNow, whenTyped } from "./typed-when";
import { WhenField } from "./when-field";

/** It was carried to another room: where to, how, and when. */
export function MoveSheet({ pieceId, onClose }: PieceSheetProps) {
  const { facts, piece, zone, now, today, head, send } = usePieceAct(pieceId);
  const [roomId, setRoomId] = useState<string>();
  const [rackId, setRackId] = useState<string>();
  const [carriedChosen, setCarried] = useState<"bearers" | "hands">();
  const [when, setWhen] = useState(() => justNow(today));
  const [isPressed, setPressed] = useState(false);
  const [isTesting, setTesting] = useState(false);
  if (isTesting) return <TestSheet pieceId={pieceId} onClose={() => setTesting(false)} />;
  if (!piece) return null;

  const picture = pictureHere(facts, pieceId);
  const mayCarry = (how: "bearers" | "hands") => picture && gate(picture, { action: "move", carried: how }, now);
  const byHands = mayCarry("hands");
  const carried = carriedChosen ?? (byHands && byHands.state !== "open" ? "bearers" : "hands");
  const detail = (how: "bearers" | "hands") => {
    const found = mayCarry(how);
    return found && gateTimeWords(found, now, zone, picture);
  };
  const rooms = openRooms(facts).filter((room) => room.id !== piece.roomId || room.racks.length > 0);
  const racks = rooms.find((room) => room.id === roomId)?.racks ?? [];

  const move = async (stance: "asking" | "done") => {
    setPressed(true);
    const typed = whenTyped(when, now, zone);
    const room = rooms.find(({ id }) => id === roomId);
    if (!room || !typed.ok) return;
    const said = `${piece.number} is in the ${room.name.toLowerCase()}.`;
    const isKept = await send(
      "move-room",
      { pieceId, roomId, ...(rackId && { rackId }), carried, stance },
      {
        said,
        happenedAt: typed.value.at,
        instead: (refusal, close) => (
          <GateSaidNo
            refusal={refusal}
            close={close}
            onDone={() => void move("done")}
            onTest={() => setTesting(true)}
          />
        ),
      },
    );
    if (isKept) onClose();
  };

  return (
    <ActSheet title="Move it" {...head} onClose={onClose}>
      <RadioField
        label="Where to"
        glove
        chosen={roomId ?? null}
        onChoose={(id) => {
          setRoomId(id);
          setRackId(undefined);
        }}
        choices={rooms.map((room) => ({ id: room.id, words: room.name, detail: roomDegrees(facts, room, now) }))}
        error={isPressed && roomId === undefined ? "Choose the room." : undefined}
      />
      {racks.length > 0 && (
        <ChoiceField
          label="Rack"
          glove
          prompt="No rack"
          chosen={rackId ?? null}
          onChoose={setRackId}
          choices={racks.map((rack) => ({ id: rack.rackId, words: rack.name }))}
        />
      )}
      <RadioField
        label="How"
        glove
        chosen={carried}
        onChoose={setCarried}
        choices={[
          { id: "hands", words: "By hand, gripped anywhere (handle)", detail: detail("hands") },
          { id: "bearers", words: "On a tray, stand or dolly (bearers)", detail: detail("bearers") },
        ]}
      />
      <WhenField
        label="When"
        when={when}
        onChange={setWhen}
        today={today}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <Key kind="main" glove wide onPress={() => void move("asking")}>
        Move it
      </Key>
    </ActSheet>
  );
}
