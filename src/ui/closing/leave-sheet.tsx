"use client";
import { useState } from "react";
import { ActSheet } from "~/ui/floor/acts/act-sheet";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";

const reasons = ["Somebody stays with it", "The one whose it is knows", "It is meant to stay so"] as const;
const ownWords = "own";

type LeaveSheetProps = { title: string; onLeave: (why: string) => void; onClose: () => void };

/** Why something is left as it is: one tap, or own words. */
export function LeaveSheet({ title, onLeave, onClose }: LeaveSheetProps) {
  const [chosen, setChosen] = useState<string>(reasons[0]);
  const [words, setWords] = useState("");
  const [isPressed, setPressed] = useState(false);
  const why = chosen === ownWords ? words.trim() : chosen;
  const leave = () => {
    setPressed(true);
    if (why === "") return;
    onLeave(why);
    onClose();
  };
  return (
    <ActSheet title={title} leaveWords="Go back" onClose={onClose}>
      <RadioField
        label="Why it is left"
        glove
        chosen={chosen}
        onChoose={setChosen}
        choices={[
          ...reasons.map((words) => ({ id: words as string, words })),
          { id: ownWords, words: "Another reason" },
        ]}
      />
      {chosen === ownWords && (
        <TextField
          label="Why"
          glove
          lines={2}
          maxLength={300}
          value={words}
          onChange={setWords}
          error={isPressed && why === "" ? "A few words for whoever comes in first." : undefined}
        />
      )}
      <Key kind="main" glove wide onPress={leave}>
        Leave it so
      </Key>
    </ActSheet>
  );
}
