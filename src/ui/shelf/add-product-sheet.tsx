"use client";
import { useState } from "react";
import { type Family, families } from "~/core/shop/entities/products";
import { type GlueKind, glueKinds } from "~/core/tables/glue-times";
import { useDevice } from "~/device/react";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { Sheet } from "~/ui/kit/sheet";
import { TextField } from "~/ui/kit/text-field";
import { useAct } from "~/ui/shell/act";
import { familyWords } from "~/ui/trade-words";
import { glueWords } from "./glue-words";

type AddProductSheetProps = { close: () => void; onAdded: (productId: string) => void };

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** A new product starts from the figures of its type; the can's own are written afterwards. */
export function AddProductSheet({ close, onAdded }: AddProductSheetProps) {
  const act = useAct();
  const { newId } = useDevice();
  const [name, setName] = useState("");
  const [colour, setColour] = useState("");
  const [family, setFamily] = useState<Family>();
  const [glueKind, setGlueKind] = useState<GlueKind>("white-glue");
  const [isPressed, setPressed] = useState(false);

  const send = async () => {
    setPressed(true);
    if (!family || name.trim() === "") return;
    const productId = newId();
    const proposed = await act(
      "add-product",
      {
        productId,
        sheetId: newId(),
        name: name.trim(),
        family,
        ...(colour.trim() !== "" && { colour: colour.trim() }),
        ...(family === "glue" && { glueKind }),
      },
      { said: `${name.trim()} stands on the shelf.` },
    );
    if (proposed.state === "refused") return;
    close();
    onAdded(productId);
  };

  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="A product for the shelf">
      <TextField
        label="Name, as the shop says it"
        value={name}
        onChange={setName}
        maxLength={80}
        isRequired
        error={isPressed && name.trim() === "" ? "Write what you call it." : undefined}
      />
      <ChoiceField
        label="What it is"
        glove
        choices={families.map((id) => ({ id, words: capital(familyWords[id]) }))}
        chosen={family ?? null}
        onChoose={setFamily}
        error={isPressed && !family ? "Choose its type: its figures start from there." : undefined}
      />
      {family === "glue" && (
        <RadioField
          label="Which glue"
          choices={glueKinds.map((id) => ({ id, words: glueWords[id] }))}
          chosen={glueKind}
          onChoose={setGlueKind}
        />
      )}
      <TextField label="Colour, if it has one" value={colour} onChange={setColour} maxLength={40} />
      <p className="why">
        Its data sheet starts with typical figures, on the careful side. Replace them with the can’s own before you rely
        on them.
      </p>
      <Key kind="main" glove wide onPress={() => void send()}>
        Put it on the shelf
      </Key>
    </Sheet>
  );
}
