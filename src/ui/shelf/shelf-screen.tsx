"use client";
import dynamic from "next/dynamic";
import { useRouter, useSearchParams } from "next/navigation";
import { useMemo, useState } from "react";
import { Link } from "react-aria-components/Link";
import { useFloor } from "~/device/react";
import { useIsWide } from "~/ui/floor/use-is-wide";
import { BareBoards } from "~/ui/kit/bare-boards";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Key } from "~/ui/kit/key";
import { SpanHead } from "~/ui/kit/span-head";
import { useMe } from "~/ui/shell/session-context";
import { type ProductAct, ProductSheet } from "./product-sheet";
import { type ShelfProduct, shelfView } from "./shelf-view";
import "./shelf.css";

const ShelfSheets = dynamic(() => import("./shelf-sheets").then((file) => file.ShelfSheets), { ssr: false });

export type ShelfAct = ProductAct | "add";

/** The products of the shop and what their data sheets say. */
export function ShelfScreen() {
  const facts = useFloor((floor) => floor);
  const seq = useFloor((_, floor) => floor.seq);
  const me = useMe();
  const isWide = useIsWide();
  const { push } = useRouter();
  const chosenId = useSearchParams().get("id") ?? "";
  const [act, setAct] = useState<ShelfAct>();
  const shelf = useMemo(() => shelfView(facts), [facts]);
  const first = shelf.groups[0]?.products[0]?.product;
  const product = facts.get("product", chosenId) ?? (isWide ? first : undefined);
  const mayPlan = (me.role === "owner" || me.role === "partner") && !me.isOnTablet;
  if (seq === 0) return <BareBoards count={4} />;
  const open = (productId: string) => push(`/shelf?id=${productId}`);
  const isEmpty = shelf.groups.length === 0 && shelf.retired.length === 0;
  return (
    <div className="shelf">
      {(isWide || !product) && (
        <nav className="shelf-list" aria-label="Products">
          {isEmpty && (
            <EmptyBoard
              title="The shelf is empty."
              sentence="A product starts with typical figures of its type; the can’s own come after."
            />
          )}
          {shelf.groups.map(({ words, products }) => (
            <Group key={words} words={words} products={products} chosenId={product?.id} />
          ))}
          {mayPlan && (
            <div className="shelf-foot">
              <Key kind={isEmpty ? "main" : "plain"} glove wide onPress={() => setAct("add")}>
                Put a product on the shelf
              </Key>
            </div>
          )}
          {shelf.retired.length > 0 && <Group words="Retired" products={shelf.retired} chosenId={product?.id} />}
        </nav>
      )}
      {product && (
        <div className="shelf-sheet">
          {!isWide && (
            <Key kind="quiet" href="/shelf">
              All products
            </Key>
          )}
          <ProductSheet key={product.id} facts={facts} product={product} mayPlan={mayPlan} onAct={setAct} />
        </div>
      )}
      {act && <ShelfSheets act={act} facts={facts} product={product} close={() => setAct(undefined)} onAdded={open} />}
    </div>
  );
}

type GroupProps = { words: string; products: readonly ShelfProduct[]; chosenId?: string };

function Group({ words, products, chosenId }: GroupProps) {
  return (
    <>
      <SpanHead words={words} />
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari drops the role from lists styled without bullets */}
      <ul className="shelf-products" role="list">
        {products.map(({ product, familyWords, sheetWords, usedWords, sheet }) => (
          <li key={product.id}>
            <Link
              href={`/shelf?id=${product.id}`}
              className="shelf-product"
              aria-current={product.id === chosenId ? "page" : undefined}
            >
              <b>{product.name}</b>
              <small>{[familyWords, product.colour].filter(Boolean).join(" · ")}</small>
              <small data-source={sheet?.origin === "generic" ? "typical" : undefined}>
                {[sheetWords, usedWords].filter(Boolean).join(" · ")}
              </small>
            </Link>
          </li>
        ))}
      </ul>
    </>
  );
}
