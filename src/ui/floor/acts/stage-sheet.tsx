"use client";
import { useState } from "react";
import type { Stage } from "~/core/shop/entities/pieces";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { TextField } from "~/ui/kit/text-field";
import { stageWords } from "~/ui/trade-words";
import { ActSheet, type PieceSheetProps } from "./act-sheet";
import { GateSaidNo } from "./gate-said-no";
import { usePieceAct } from "./piece-act";
import { type BackReason, backReasonChoices, isBack, stageChoices } from "./stage-words";
import { TestSheet } from "./test-sheet";

/** The piece goes on to another stage, or back with a reason. */
export function StageSheet({ pieceId, onClose }: PieceSheetProps) {
  const { piece, head, send } = usePieceAct(pieceId);
  // where it stood when the sheet was opened: if somebody moves it meanwhile, both are told
  const [fromStage] = useState(piece?.stage);
  const [toStage, setToStage] = useState<Stage>();
  const [reason, setReason] = useState<BackReason>();
  const [why, setWhy] = useState("");
  const [isPressed, setPressed] = useState(false);
  const [isTesting, setTesting] = useState(false);
  if (isTesting) return <TestSheet pieceId={pieceId} onClose={() => setTesting(false)} />;
  if (!piece || !fromStage) return null;
  const goesBack = toStage !== undefined && isBack(fromStage, toStage);

  const move = async () => {
    setPressed(true);
    if (!toStage || (goesBack && !reason)) return;
    const body = { pieceId, fromStage, toStage, ...(goesBack && { reason }), ...(why.trim() !== "" && { why }) };
    const isKept = await send("move-stage", body, {
      said: `${piece.number} is in ${stageWords[toStage]}.`,
      instead: (refusal, close) => <GateSaidNo refusal={refusal} close={close} onTest={() => setTesting(true)} />,
    });
    if (isKept) onClose();
  };

  return (
    <ActSheet title={`Now in ${stageWords[fromStage]}`} {...head} onClose={onClose}>
      <RadioField
        label="Move it to"
        glove
        chosen={toStage ?? null}
        onChoose={setToStage}
        choices={stageChoices(fromStage).map((stage) => ({
          id: stage,
          words: stageWords[stage],
          detail: isBack(fromStage, stage) ? "back" : undefined,
        }))}
        error={isPressed && !toStage ? "Choose the stage." : undefined}
      />
      {goesBack && (
        <RadioField
          label="Why it goes back"
          glove
          chosen={reason ?? null}
          onChoose={setReason}
          choices={backReasonChoices}
          error={isPressed && !reason ? "Say why. What is done again counts as rework with this reason." : undefined}
        />
      )}
      <TextField label="Note" glove value={why} onChange={setWhy} lines={2} maxLength={300} />
      <Key kind="main" glove wide onPress={() => void move()}>
        {toStage ? `Move it to ${stageWords[toStage]}` : "Move the stage"}
      </Key>
    </ActSheet>
  );
}
