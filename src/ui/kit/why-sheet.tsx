"use client";
import { type ReactNode, useState } from "react";
import { Key, type KeyKind } from "./key";
import { Sheet } from "./sheet";
import { TextField } from "./text-field";

type WhySheetProps = {
  title: string;
  /** What will happen. */
  children: ReactNode;
  words: string;
  keyKind?: KeyKind;
  close: () => void;
  onSay: (why: string) => void;
};

/** Asks for a reason in a few words before something is done that others will wonder about. */
export function WhySheet({ title, children, words, keyKind = "main", close, onSay }: WhySheetProps) {
  const [why, setWhy] = useState("");
  const [error, setError] = useState<string>();
  const say = () => {
    if (why.trim() === "") return setError("Say why in a few words: the others will read it.");
    onSay(why.trim());
    close();
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={title}>
      <p>{children}</p>
      <TextField
        label="Why"
        value={why}
        onChange={setWhy}
        error={error}
        maxLength={300}
        isRequired
        autoFocus
        lines={2}
      />
      <Key kind={keyKind} glove wide onPress={say}>
        {words}
      </Key>
    </Sheet>
  );
}
