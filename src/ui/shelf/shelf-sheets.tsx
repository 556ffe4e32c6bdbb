"use client";
import type { Facts } from "~/core/shop/facts";
import type { Product } from "~/core/shop/tables";
import { AddProductSheet } from "./add-product-sheet";
import { CopySheet } from "./copy-sheet";
import { EditSheet } from "./edit-sheet";
import { RetireSheet } from "./retire-sheet";
import type { ShelfAct } from "./shelf-screen";
import { versionsOf } from "./shelf-view";

type ShelfSheetsProps = {
  act: ShelfAct;
  facts: Facts;
  product?: Product;
  close: () => void;
  onAdded: (productId: string) => void;
};

export function ShelfSheets({ act, facts, product, close, onAdded }: ShelfSheetsProps) {
  if (act === "add") return <AddProductSheet close={close} onAdded={onAdded} />;
  if (!product) return null;
  if (act === "copy") return <CopySheet facts={facts} product={product} close={close} />;
  if (act === "retire") return <RetireSheet facts={facts} product={product} close={close} />;
  const [sheet] = versionsOf(facts, product.id);
  return sheet ? <EditSheet product={product} sheet={sheet} close={close} /> : null;
}
