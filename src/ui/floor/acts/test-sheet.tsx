"use client";
import { useState } from "react";
import type { TestKind } from "~/core/shop/entities/tests";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { ActSheet, type PieceSheetProps } from "./act-sheet";
import { usePieceAct } from "./piece-act";
import { isAboutOldPaint, resultChoices, testChoices, testHow } from "./test-kinds";
import { justNow, whenTyped } from "./typed-when";
import { WhenField } from "./when-field";

export type TestSheetProps = PieceSheetProps & {
  /** What is likely to be tested, where the screen knows. */
  firstKind?: TestKind;
  surfaceId?: string;
  pairId?: string;
};

/** A hand on the piece: which test, on what, and what it said. It outranks the clock, in both directions. */
export function TestSheet({ pieceId, onClose, firstKind, surfaceId, pairId }: TestSheetProps) {
  const { facts, piece, zone, now, today, newId, head, send } = usePieceAct(pieceId);
  const [kind, setKind] = useState(firstKind);
  const [subject, setSubject] = useState(pairId ?? surfaceId);
  const [layer, setLayer] = useState("");
  const [result, setResult] = useState<"pass" | "fail" | "unclear" | "pending">();
  const [note, setNote] = useState("");
  const [when, setWhen] = useState(() => justNow(today));
  const [isPressed, setPressed] = useState(false);
  if (!piece) return null;

  const surfaces = facts.where("surface", "pieceId", pieceId);
  const nameOf = (id: string) => facts.get("surface", id)?.name ?? "another face";
  const pairs = facts.where("pair", "pieceId", pieceId);
  const faces = surfaces.map((surface) => ({ id: surface.id, words: surface.name }));
  const touching = pairs.map((pair) => ({
    id: pair.id,
    words: `${nameOf(pair.surfaceA)} against ${nameOf(pair.surfaceB)}`,
  }));
  const subjects = kind === "paper-press" ? [...touching, ...faces] : faces;
  const isPaint = isAboutOldPaint(kind);
  const chosen = subjects.find(({ id }) => id === subject)?.id ?? (subjects.length === 1 ? subjects[0]?.id : undefined);

  const subjectTold = () => {
    if (isPaint) return layer.trim() === "" ? undefined : { of: "paint-layer", layer };
    if (chosen === undefined) return undefined;
    return touching.some(({ id }) => id === chosen)
      ? { of: "pair", pairId: chosen }
      : { of: "surface", surfaceId: chosen };
  };

  const record = async () => {
    setPressed(true);
    const typed = whenTyped(when, now, zone);
    const about = subjectTold();
    if (!kind || !result || !about || !typed.ok) return;
    const body = { testId: newId(), pieceId, subject: about, kind, result, ...(note.trim() !== "" && { note }) };
    if (await send("record-test", body, { said: "The test is written down.", happenedAt: typed.value.at })) onClose();
  };

  const missing = (isMissing: boolean, words: string) => (isPressed && isMissing ? words : undefined);
  return (
    <ActSheet title="Record a test" {...head} onClose={onClose}>
      <ChoiceField
        label="Test"
        glove
        chosen={kind ?? null}
        onChoose={setKind}
        choices={testChoices(piece, surfaces.length > 0)}
        note={kind && testHow[kind]}
        error={missing(!kind, "Choose the test.")}
      />
      {isPaint && (
        <TextField
          label="Layer"
          glove
          value={layer}
          onChange={setLayer}
          maxLength={40}
          note="One test a layer: top, second, primer."
          error={missing(layer.trim() === "", "Say which layer of paint.")}
        />
      )}
      {!isPaint && subjects.length > 1 && (
        <ChoiceField
          label="On what"
          glove
          chosen={chosen ?? null}
          onChoose={setSubject}
          choices={subjects}
          error={missing(chosen === undefined, "Choose the face, or the two that touch.")}
        />
      )}
      <RadioField
        label="Result"
        glove
        chosen={result ?? null}
        onChoose={setResult}
        choices={resultChoices(kind)}
        error={missing(!result, "Say what it showed.")}
      />
      <TextField label="Note" glove value={note} onChange={setNote} lines={2} maxLength={300} />
      <WhenField
        label="When"
        when={when}
        onChange={setWhen}
        today={today}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <Key kind="main" glove wide onPress={() => void record()}>
        Record the test
      </Key>
    </ActSheet>
  );
}
