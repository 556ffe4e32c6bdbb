"use client";
import type { Facts } from "~/core/shop/facts";
import type { Product } from "~/core/shop/tables";
import { Key } from "~/ui/kit/key";
import { Sheet } from "~/ui/kit/sheet";
import { useAct } from "~/ui/shell/act";
import { usesOf } from "./shelf-view";

type RetireSheetProps = { facts: Facts; product: Product; close: () => void };

/** A product that is no longer bought: nothing new is planned with it, nothing that lies is forgotten. */
export function RetireSheet({ facts, product, close }: RetireSheetProps) {
  const act = useAct();
  const planned = usesOf(facts, product.id).filter((use) => use.planned > 0);
  const send = async () => {
    const proposed = await act("retire-product", { productId: product.id }, { said: `${product.name} is retired.` });
    if (proposed.state !== "refused") close();
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={`Retire ${product.name}?`}>
      <p>
        It is no longer offered for new coats. Coats that lie keep their data sheet, and it stays readable at the end of
        the shelf.
      </p>
      {planned.length > 0 && (
        <p className="why">
          Still planned on {planned.map(({ number }) => number).join(", ")}: strike those coats first, or lay them.
        </p>
      )}
      <Key kind="stop" glove wide onPress={() => void send()}>
        Retire it
      </Key>
    </Sheet>
  );
}
