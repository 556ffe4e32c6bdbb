"use client";
import { useState } from "react";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { useDevice } from "~/device/react";
import { Key } from "../kit/key";
import { NumberField } from "../kit/number-field";
import { RadioField } from "../kit/radio-field";
import { Sheet } from "../kit/sheet";
import { TextField } from "../kit/text-field";
import { useAct } from "../shell/act";
import { canShown } from "./shelf-view";

type CanAct = "count" | "open" | "drop" | "empty";
type Result = "pass" | "fail";
type CanSheetProps = { canId: string; facts: Facts; now: InstantMs; zone: string; close: () => void };

/** What somebody found out about a can: how much is in it, when it was opened, whether a drop of it hardens. */
export function CanSheet({ canId, facts, now, zone, close }: CanSheetProps) {
  const can = facts.get("can", canId);
  const product = can && facts.get("product", can.productId);
  const shown = can && canShown(facts, can, now, zone);
  const act = useAct();
  const device = useDevice();
  const [chosen, setChosen] = useState<CanAct>(shown?.isPast ? "drop" : "count");
  const [millilitres, setMillilitres] = useState(Number.NaN);
  const [openedOn, setOpenedOn] = useState("");
  const [result, setResult] = useState<Result>();
  const [isPressed, setPressed] = useState(false);
  if (!can || !product || !shown) return null;

  /** The intent that tells it; nothing while something is still to be said. */
  const told = (): [kind: string, body: object, said: string] | undefined => {
    switch (chosen) {
      case "count":
        return millilitres >= 0 ? ["count-can", { canId, millilitres }, `Can ${can.label} counted.`] : undefined;
      case "open":
        return ["open-can", { canId, ...(openedOn !== "" && { openedOn }) }, `Can ${can.label} is open.`];
      case "drop":
        return (
          result && [
            "record-test",
            { testId: device.newId(), subject: { of: "can", canId }, kind: "drop-on-glass", result },
            "The drop is written down.",
          ]
        );
      case "empty":
        return ["empty-can", { canId }, `Can ${can.label} is empty.`];
    }
  };
  const send = async () => {
    setPressed(true);
    const intent = told();
    if (!intent) return;
    const [kind, body, said] = intent;
    const proposed = await act(kind, body, { said, name: product.name });
    if (proposed.state !== "refused") close();
  };
  const keyWords: Record<CanAct, string> = {
    count: "Write the count down",
    open: "It is open",
    drop: "Write the drop down",
    empty: "It is empty",
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={`Can ${can.label}, ${product.name}`}>
      <p>
        {shown.leftWords}. {shown.lifeWords}
      </p>
      <RadioField
        label="What there is to say"
        glove
        chosen={chosen}
        onChoose={setChosen}
        choices={[
          { id: "count", words: "How much is in it" },
          { id: "drop", words: "What a drop on glass did overnight" },
          { id: "open", words: can.openedOn === undefined ? "It was opened" : "It was opened earlier" },
          { id: "empty", words: "It is empty" },
        ]}
      />
      {chosen === "count" && (
        <NumberField
          label="In the can"
          unit="ml"
          glove
          minValue={0}
          maxValue={100_000}
          formatOptions={{ maximumFractionDigits: 0 }}
          value={millilitres}
          onChange={setMillilitres}
          note="Everything used from now on is taken off this figure."
          error={isPressed && Number.isNaN(millilitres) ? "Say how much is in it." : undefined}
        />
      )}
      {chosen === "open" && (
        <TextField
          label="Opened on"
          type="date"
          glove
          value={openedOn}
          onChange={setOpenedOn}
          note="As the lid says; left out, today."
        />
      )}
      {chosen === "drop" && (
        <RadioField
          label="The drop"
          glove
          chosen={result ?? null}
          onChoose={setResult}
          choices={[
            { id: "pass", words: "Hard by the morning", detail: "good for seven days" },
            { id: "fail", words: "Still soft or sticky", detail: "the can is dead" },
          ]}
          note="A drop on glass in the warm room, left overnight, then a fingernail."
          error={isPressed && !result ? "Say what the drop did." : undefined}
        />
      )}
      <Key kind="main" glove wide onPress={() => void send()}>
        {keyWords[chosen]}
      </Key>
    </Sheet>
  );
}
