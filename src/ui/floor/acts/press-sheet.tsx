"use client";
import { useState } from "react";
import { gate } from "~/core/cure/gate";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { gateTimeWords } from "../gate-words";
import { pictureHere } from "../picture-here";
import { ActSheet, type PieceSheetProps } from "./act-sheet";
import { GateSaidNo } from "./gate-said-no";
import { usePieceAct } from "./piece-act";
import { TestSheet } from "./test-sheet";
import { justNow, whenTyped } from "./typed-when";
import { WhenField } from "./when-field";

type Spacer = "none" | "felt" | "paper" | "foam";
const spacers: { id: Spacer; words: string; detail?: string }[] = [
  { id: "none", words: "Nothing", detail: "face against face" },
  { id: "felt", words: "Felt" },
  { id: "foam", words: "Foam" },
  { id: "paper", words: "Paper" },
];

/** Drawers in, doors shut, leaves closed, or all of that undone: faces that touch, pair by pair. */
export function PressSheet({ pieceId, onClose }: PieceSheetProps) {
  const { facts, piece, zone, now, today, head, send } = usePieceAct(pieceId);
  const pairs = facts.where("pair", "pieceId", pieceId);
  const [pairChosen, setPairId] = useState<string>();
  const [spacer, setSpacer] = useState<Spacer>("none");
  const [when, setWhen] = useState(() => justNow(today));
  const [isPressed, setPressed] = useState(false);
  const [isTesting, setTesting] = useState(false);
  const pair = pairs.find(({ id }) => id === pairChosen) ?? (pairs.length === 1 ? pairs[0] : undefined);
  if (isTesting)
    return <TestSheet pieceId={pieceId} firstKind="paper-press" pairId={pair?.id} onClose={() => setTesting(false)} />;
  if (!piece) return null;

  const picture = pictureHere(facts, pieceId);
  const nameOf = (id: string) => facts.get("surface", id)?.name ?? "another face";
  const detailOf = ({ id, isApart }: (typeof pairs)[number]) =>
    isApart
      ? picture && gateTimeWords(gate(picture, { action: "press-together", pairId: id }, now), now, zone, picture)
      : "together now";

  const tell = async (stance: "asking" | "done") => {
    setPressed(true);
    const typed = whenTyped(when, now, zone);
    if (!pair || !typed.ok) return;
    const body = pair.isApart ? { pairId: pair.id, spacer, stance } : { pairId: pair.id };
    const isKept = await send(pair.isApart ? "press-together" : "set-apart", body, {
      said: pair.isApart ? "Together." : "Set apart.",
      happenedAt: typed.value.at,
      instead: (refusal, close) => (
        <GateSaidNo refusal={refusal} close={close} onDone={() => void tell("done")} onTest={() => setTesting(true)} />
      ),
    });
    if (isKept) onClose();
  };

  if (pairs.length === 0)
    return (
      <ActSheet title="Press together" {...head} onClose={onClose}>
        <p>
          No two faces of it are noted as touching. Note on the piece sheet which ones do: fronts and body, leaf and
          top.
        </p>
        <Key kind="main" glove wide href={`/piece?id=${pieceId}`}>
          Open the piece sheet
        </Key>
      </ActSheet>
    );
  return (
    <ActSheet title={pair && !pair.isApart ? "Set apart" : "Press together"} {...head} onClose={onClose}>
      <RadioField
        label="Which faces"
        glove
        chosen={pair?.id ?? null}
        onChoose={setPairId}
        choices={pairs.map((one) => ({
          id: one.id,
          words: `${nameOf(one.surfaceA)} against ${nameOf(one.surfaceB)}`,
          detail: detailOf(one),
        }))}
        error={isPressed && !pair ? "Choose the two faces." : undefined}
      />
      {pair?.isApart && (
        <RadioField label="Between them" glove chosen={spacer} onChoose={setSpacer} choices={spacers} />
      )}
      <WhenField
        label="When"
        when={when}
        onChange={setWhen}
        today={today}
        now={now}
        zone={zone}
        showsError={isPressed}
      />
      <Key kind="main" glove wide onPress={() => void tell("asking")}>
        {pair && !pair.isApart ? "Set them apart" : "Press them together"}
      </Key>
    </ActSheet>
  );
}
