"use client";
import { useState } from "react";
import { ActSheet, type PieceSheetProps } from "~/ui/floor/acts/act-sheet";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { SeveralField } from "~/ui/floor/acts/several-field";
import { justNow, whenTyped } from "~/ui/floor/acts/typed-when";
import { WhenField } from "~/ui/floor/acts/when-field";
import { Key } from "~/ui/kit/key";

/** It was washed, or stood in the rain: bare wood dries from here on. A finished washing task says so by itself. */
export function WaterSheet({ pieceId, onClose }: PieceSheetProps) {
  const { facts, piece, zone, now, today, head, send } = usePieceAct(pieceId);
  const surfaces = facts.where("surface", "pieceId", pieceId);
  const [wet, setWet] = useState<string[]>(() => surfaces.map(({ id }) => id));
  const [when, setWhen] = useState(() => justNow(today));
  const [isPressed, setPressed] = useState(false);
  if (!piece) return null;
  const tell = async () => {
    setPressed(true);
    const typed = whenTyped(when, now, zone);
    if (wet.length === 0 || !typed.ok) return;
    const told = { said: "Noted: it dries from here on.", happenedAt: typed.value.at };
    if (await send("log-water", { pieceId, surfaceIds: wet }, told)) onClose();
  };
  return (
    <ActSheet title="It got wet" {...head} onClose={onClose}>
      <SeveralField
        label="What got wet"
        chosen={wet}
        onChoose={setWet}
        choices={surfaces.map(({ id, name }) => ({ id, words: name }))}
        error={isPressed && wet.length === 0 ? "Say what got wet." : undefined}
      />
      <WhenField
        label="When the water was last on it"
        when={when}
        onChange={setWhen}
        today={today}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <Key kind="main" glove wide onPress={() => void tell()}>
        Note the water
      </Key>
    </ActSheet>
  );
}
