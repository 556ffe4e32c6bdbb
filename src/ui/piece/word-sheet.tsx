"use client";
import { useState } from "react";
import { hourMs } from "~/core/units";
import { ActSheet, type PieceSheetProps } from "~/ui/floor/acts/act-sheet";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { pictureHere } from "~/ui/floor/picture-here";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { untilChoices, wordChoices } from "./word-view";

/** A word without a reason is a guess: the rule asks for at least this much. */
const leastWhy = 10;

/** Somebody answers for a gate with their name: which, until when, and why. */
export function WordSheet({ pieceId, onClose }: PieceSheetProps) {
  const { facts, piece, zone, now, newId, head, send } = usePieceAct(pieceId);
  const [what, setWhat] = useState<string>();
  const [hours, setHours] = useState<string>();
  const [why, setWhy] = useState("");
  const [isPressed, setPressed] = useState(false);
  const picture = pictureHere(facts, pieceId);
  if (!piece || !picture) return null;
  const choices = wordChoices(picture, now, zone);
  const choice = choices.find(({ id }) => id === what) ?? (choices.length === 1 ? choices[0] : undefined);
  const isReason = [...why.trim()].length >= leastWhy;

  const give = async () => {
    setPressed(true);
    if (!choice || !hours || !isReason) return;
    const body = {
      wordId: newId(),
      pieceId,
      ...choice.told,
      untilAt: now + Number(hours) * hourMs,
      why: why.trim(),
    };
    if (await send("override-gate", body, { said: "Open by your word." })) onClose();
  };

  const missing = (isMissing: boolean, words: string) => (isPressed && isMissing ? words : undefined);
  if (choices.length === 0)
    return (
      <ActSheet title="Give your word" {...head} onClose={onClose}>
        <p>
          Nothing here waits for the clock alone. What a failed test, wet wood or a rule holds shut, no word opens: test
          it by hand.
        </p>
      </ActSheet>
    );
  return (
    <ActSheet title="Give your word" {...head} onClose={onClose}>
      <p>The film is not there yet by the clock. It opens on your name, and a failed test ends it at once.</p>
      <RadioField
        label="What it opens"
        glove
        choices={choices}
        chosen={choice?.id ?? null}
        onChoose={setWhat}
        error={missing(!choice, "Say what it opens.")}
      />
      <RadioField
        label="For how long"
        glove
        choices={untilChoices(now, zone)}
        chosen={hours ?? null}
        onChoose={setHours}
        note="It ends by itself."
        error={missing(!hours, "Say until when.")}
      />
      <TextField
        label="Why"
        glove
        lines={2}
        maxLength={300}
        value={why}
        onChange={setWhy}
        note="Everybody sees it beside your name."
        error={missing(!isReason, "Say why, in ten letters at least.")}
      />
      <Key kind="main" glove wide onPress={() => void give()}>
        Give my word
      </Key>
    </ActSheet>
  );
}
