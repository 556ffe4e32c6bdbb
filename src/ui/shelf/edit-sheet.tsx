"use client";
import { useState } from "react";
import type { Sheet as DataSheet, Product } from "~/core/shop/tables";
import { useDevice, useFloor, useNow } from "~/device/react";
import { Key } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { Sheet } from "~/ui/kit/sheet";
import { useAct } from "~/ui/shell/act";
import { useNames } from "~/ui/shell/names";
import { wordsOf } from "~/ui/wording";
import { disagreeing, draftOf, fieldsOfDraft, missingFigures, type SheetDraft } from "./sheet-draft";
import { SheetForm } from "./sheet-form";
import { sheetFieldWords } from "./sheet-words";

type EditSheetProps = { product: Product; sheet: DataSheet; close: () => void };

/** Writes the next version of a product's data sheet. Coats that lie keep the version under which they went on. */
export function EditSheet({ product, sheet, close }: EditSheetProps) {
  const act = useAct();
  const { newId } = useDevice();
  const facts = useFloor((floor) => floor);
  const now = useNow(60_000);
  const names = useNames();
  const [draft, setDraft] = useState(() => draftOf(sheet, product.family));
  const [errors, setErrors] = useState<Record<string, string>>({});
  const [trouble, setTrouble] = useState<string>();
  const change = (next: SheetDraft) => {
    setDraft(next);
    setErrors({});
    setTrouble(undefined);
  };
  const { id: _id, productId: _productId, version: _version, origin: _origin, ...from } = sheet;

  const send = async () => {
    const missing = missingFigures(draft);
    if (missing.length > 0) {
      setErrors(Object.fromEntries(missing.map((path) => [path, "Write this figure: every sheet has one."])));
      return setTrouble(`Still empty: ${missing.map(sheetFieldWords).join(", ")}.`);
    }
    const fields = fieldsOfDraft(draft, from, product.family);
    const refusal = disagreeing(fields);
    if (refusal) {
      const zone = facts.all("shop")[0]?.zone ?? "UTC";
      const { found, instead } = wordsOf(refusal, { names, now, zone });
      const pathOf = (field: string) => field.replace(/\.min$/, "");
      setErrors(Object.fromEntries(refusal.fields.map((field) => [pathOf(field), "This one, or the other."])));
      return setTrouble([found, instead].join(" "));
    }
    const proposed = await act(
      "edit-sheet",
      { productId: product.id, sheetId: newId(), sheet: fields },
      { said: `${product.name}: version ${sheet.version + 1} is written.` },
    );
    if (proposed.state !== "refused") close();
  };

  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={`Data sheet: ${product.name}`}>
      <p className="why">
        Copy the figures from the can. What you leave as it is keeps its mark as typical. A new version is made; coats
        that lie keep theirs.
      </p>
      <SheetForm family={product.family} draft={draft} onChange={change} errors={errors} />
      {trouble !== undefined && (
        <div role="alert">
          <Notice kind="stuck" title="Two figures to look at">
            {trouble}
          </Notice>
        </div>
      )}
      <Key kind="main" glove wide onPress={() => void send()}>
        Write version {sheet.version + 1}
      </Key>
    </Sheet>
  );
}
