"use client";
import { useState } from "react";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { useDevice } from "~/device/react";
import { CheckField } from "../kit/check-field";
import { ChoiceField } from "../kit/choice-field";
import { Key } from "../kit/key";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";
import { TextField } from "../kit/text-field";
import { useAct } from "../shell/act";

type AddCanSheetProps = { facts: Facts; now: InstantMs; zone: string; close: () => void };

/** A can onto the shelf list: of what, what is written on it, how much it was sold with, and since when it has been open. */
export function AddCanSheet({ facts, close }: AddCanSheetProps) {
  const act = useAct();
  const device = useDevice();
  const [productId, setProductId] = useState<string>();
  const [label, setLabel] = useState("");
  const [filled, setFilled] = useState(Number.NaN);
  const [openedOn, setOpenedOn] = useState("");
  const [isBare, setBare] = useState(false);
  const [isPressed, setPressed] = useState(false);
  const missing = (isMissing: boolean, words: string) => (isPressed && isMissing ? words : undefined);
  const isWhole = productId !== undefined && label.trim() !== "" && filled >= 1;
  const add = async () => {
    setPressed(true);
    if (!isWhole) return;
    const body = {
      canId: device.newId(),
      productId,
      label: label.trim(),
      filledMillilitres: filled,
      ...(openedOn !== "" && { openedOn }),
      isLabelled: !isBare,
    };
    const proposed = await act("add-can", body, { said: `Can ${body.label} is on the shelf.` });
    if (proposed.state !== "refused") close();
  };
  const products = facts
    .all("product")
    .filter((product) => product.retiredAt === undefined)
    .sort((one, other) => one.name.localeCompare(other.name));
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="Add a can">
      <ChoiceField
        label="Of what"
        glove
        chosen={productId ?? null}
        onChoose={setProductId}
        choices={products.map((product) => ({ id: product.id, words: product.name, detail: product.colour }))}
        error={missing(productId === undefined, "Choose the product.")}
      />
      <TextField
        label="Written on it"
        glove
        value={label}
        onChange={setLabel}
        maxLength={20}
        note="A number or a letter that tells it from the others: write it on the lid as well."
        error={missing(label.trim() === "", "Give it a number or a letter.")}
      />
      <NumberField
        label="Filled with"
        unit="ml"
        glove
        minValue={1}
        maxValue={100_000}
        formatOptions={{ maximumFractionDigits: 0 }}
        value={filled}
        onChange={setFilled}
        note="As it was sold; if it is half empty, count it next."
        error={missing(!(filled >= 1), "Say how much it was filled with.")}
      />
      <TextField
        label="Opened on, if it is open"
        type="date"
        glove
        value={openedOn}
        onChange={setOpenedOn}
        note="The day on the lid. An opened can ages faster than a sealed one."
      />
      <CheckField
        label="It has no label"
        note="What has no label is tested with a drop on glass before it is used."
        isChecked={isBare}
        onChange={setBare}
      />
      <Key kind="main" glove wide onPress={() => void add()}>
        Put it on the shelf
      </Key>
    </Sheet>
  );
}
