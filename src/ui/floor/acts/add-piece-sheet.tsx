"use client";
import { useState } from "react";
import { type pieceKinds, type Stage, stages } from "~/core/shop/entities/pieces";
import { freeNumber } from "~/core/shop/intents/pieces";
import { useDevice, useFloor, useNow } from "~/device/react";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { useAct } from "~/ui/shell/act";
import { stageWords } from "~/ui/trade-words";
import { openRooms, roomDegrees } from "../room-air";
import { ActSheet } from "./act-sheet";
import { nextNumber, squareDecimetresOf } from "./new-piece";

type Kind = (typeof pieceKinds)[number];
const kindWords: Record<Kind, string> = {
  dresser: "Dresser",
  wardrobe: "Wardrobe",
  table: "Table",
  chair: "Chair",
  desk: "Desk",
  chest: "Chest",
  bookcase: "Bookcase",
  nightstand: "Nightstand",
  sideboard: "Sideboard",
  mirror: "Mirror",
  other: "Something else",
};
const kinds = Object.entries(kindWords).map(([id, words]) => ({ id: id as Kind, words }));

type SurfaceTyped = { surfaceId: string; name: string; squareMetres: number };

/** A new piece on the floor: its number is proposed, and a name is enough. */
export function AddPieceSheet({ onClose, boardId }: { onClose: () => void; boardId?: string }) {
  const facts = useFloor((floor) => floor);
  const { newId } = useDevice();
  const act = useAct();
  const now = useNow(60_000);
  const rooms = openRooms(facts);
  const boards = facts.all("board").filter((board) => board.closedOn === undefined);
  const numbers = facts.all("piece").map((piece) => piece.number);
  const [number, setNumber] = useState(() => nextNumber(numbers));
  const [name, setName] = useState("");
  const [kind, setKind] = useState<Kind>("other");
  const [stage, setStage] = useState<Stage>("acquisition");
  const [roomId, setRoomId] = useState(rooms.length === 1 ? rooms[0]?.id : undefined);
  const [board, setBoard] = useState(boardId ?? boards[0]?.id);
  const [isPainted, setPainted] = useState<"yes" | "no" | "unknown">("unknown");
  const [surfaces, setSurfaces] = useState<SurfaceTyped[]>([]);
  const [isPressed, setPressed] = useState(false);

  const setSurface = (surfaceId: string, typed: Partial<SurfaceTyped>) =>
    setSurfaces(surfaces.map((surface) => (surface.surfaceId === surfaceId ? { ...surface, ...typed } : surface)));
  const isSurfaceWhole = (surface: SurfaceTyped) => surface.name.trim() !== "" && !Number.isNaN(surface.squareMetres);

  const add = async () => {
    setPressed(true);
    if (name.trim() === "" || number.trim() === "" || !roomId || !board || !surfaces.every(isSurfaceWhole)) return;
    const body = {
      pieceId: newId(),
      number,
      boardId: board,
      name,
      kind,
      roomId,
      stage,
      isPainted,
      surfaces: surfaces.map(({ surfaceId, name: surfaceName, squareMetres }) => ({
        surfaceId,
        name: surfaceName,
        squareDecimetres: squareDecimetresOf(squareMetres),
      })),
    };
    const tag = freeNumber(number, new Set(numbers));
    const proposed = await act("add-piece", body, { tag, name, said: `Tie ${tag} to it.` });
    if (proposed.state === "kept") onClose();
  };

  const missing = (isMissing: boolean, words: string) => (isPressed && isMissing ? words : undefined);
  return (
    <ActSheet title="Add a piece" onClose={onClose}>
      <TextField
        label="Name"
        glove
        value={name}
        onChange={setName}
        maxLength={120}
        autoFocus
        error={missing(name.trim() === "", "A name is enough, but it needs one.")}
      />
      <TextField
        label="Number on its tag"
        glove
        value={number}
        onChange={setNumber}
        maxLength={12}
        error={missing(number.trim() === "", "It needs a number for its tag.")}
      />
      <RadioField
        label="Room"
        glove
        chosen={roomId ?? null}
        onChoose={setRoomId}
        choices={rooms.map((room) => ({ id: room.id, words: room.name, detail: roomDegrees(facts, room, now) }))}
        error={missing(!roomId, rooms.length === 0 ? "Add a room at Rooms first." : "Say where it stands.")}
      />
      {boards.length > 1 && (
        <ChoiceField
          label="Board"
          glove
          chosen={board ?? null}
          onChoose={setBoard}
          choices={boards.map(({ id, name: words }) => ({ id, words }))}
        />
      )}
      <ChoiceField label="Kind" glove chosen={kind} onChoose={setKind} choices={kinds} />
      <ChoiceField
        label="Stage"
        glove
        chosen={stage}
        onChoose={setStage}
        choices={stages.map((id) => ({ id, words: stageWords[id] }))}
      />
      <RadioField
        label="Old paint on it?"
        glove
        chosen={isPainted}
        onChoose={setPainted}
        choices={[
          { id: "yes", words: "Yes" },
          { id: "no", words: "No" },
          { id: "unknown", words: "Not known" },
        ]}
        note="Old paint may hold lead. Until it is known, dry sanding and heat stay locked."
      />
      {surfaces.map((surface) => (
        <fieldset key={surface.surfaceId} className="new-surface">
          <legend className="sr-only">Surface</legend>
          <TextField
            label="Surface"
            glove
            value={surface.name}
            onChange={(typed) => setSurface(surface.surfaceId, { name: typed })}
            maxLength={40}
            error={missing(surface.name.trim() === "", "Body, top, fronts?")}
          />
          <NumberField
            label="Area"
            unit="m²"
            glove
            minValue={0.01}
            maxValue={100}
            step={0.01}
            formatOptions={{ maximumFractionDigits: 2 }}
            value={surface.squareMetres}
            onChange={(squareMetres) => setSurface(surface.surfaceId, { squareMetres })}
            error={missing(Number.isNaN(surface.squareMetres), "How large?")}
          />
          <Key kind="quiet" onPress={() => setSurfaces(surfaces.filter((other) => other !== surface))}>
            Leave it out
          </Key>
        </fieldset>
      ))}
      <Key onPress={() => setSurfaces([...surfaces, { surfaceId: newId(), name: "", squareMetres: Number.NaN }])}>
        Add a surface
      </Key>
      <Key kind="main" glove wide onPress={() => void add()}>
        Hang it on the board
      </Key>
    </ActSheet>
  );
}
