"use client";
import { useState } from "react";
import type { Facts } from "~/core/shop/facts";
import type { Product } from "~/core/shop/tables";
import { type GlueKind, glueKinds } from "~/core/tables/glue-times";
import { useDevice } from "~/device/react";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { RadioField } from "~/ui/kit/radio-field";
import { Sheet } from "~/ui/kit/sheet";
import { useAct } from "~/ui/shell/act";
import { glueWords } from "./glue-words";
import { versionsOf } from "./shelf-view";

type CopySheetProps = { facts: Facts; product: Product; close: () => void };

/** Takes the figures of another product of the shelf, or the typical ones again, as the next version. */
export function CopySheet({ facts, product, close }: CopySheetProps) {
  const act = useAct();
  const { newId } = useDevice();
  const [from, setFrom] = useState("typical");
  const [glueKind, setGlueKind] = useState<GlueKind>("white-glue");
  const others = facts
    .all("product")
    .filter(({ id, family, retiredAt }) => id !== product.id && family === product.family && retiredAt === undefined)
    .flatMap((other) => {
      const [sheet] = versionsOf(facts, other.id);
      return sheet ? [{ id: sheet.id, words: other.name, detail: `version ${sheet.version}` }] : [];
    });
  const isTypical = from === "typical";
  const send = async () => {
    const source = isTypical ? { ...(product.family === "glue" && { glueKind }) } : { fromSheetId: from };
    const proposed = await act(
      "copy-sheet",
      { productId: product.id, sheetId: newId(), ...source },
      { said: `${product.name}: a new version is copied.` },
    );
    if (proposed.state !== "refused") close();
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={`Copy figures: ${product.name}`}>
      <ChoiceField
        label="From"
        glove
        choices={[{ id: "typical", words: "The typical figures of its type" }, ...others]}
        chosen={from}
        onChoose={setFrom}
      />
      {isTypical && product.family === "glue" && (
        <RadioField
          label="Which glue"
          choices={glueKinds.map((id) => ({ id, words: glueWords[id] }))}
          chosen={glueKind}
          onChoose={setGlueKind}
        />
      )}
      <p className="why">It becomes the next version. The versions before stay readable, and coats keep theirs.</p>
      <Key kind="main" glove wide onPress={() => void send()}>
        Copy them
      </Key>
    </Sheet>
  );
}
