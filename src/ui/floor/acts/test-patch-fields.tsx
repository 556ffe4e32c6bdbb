"use client";
import type { Product } from "~/core/shop/tables";
import { ChoiceField } from "~/ui/kit/choice-field";

const noBarrier = "none";

type TestPatchFieldsProps = {
  products: Product[];
  barriers: Product[];
  productId?: string;
  barrierId?: string;
  onProduct: (id: string) => void;
  onBarrier: (id: string | undefined) => void;
};

/** Which coat the patch is of, and what lies under it: a clean patch over a barrier says nothing of the bare wood. */
export function TestPatchFields({
  products,
  barriers,
  productId,
  barrierId,
  onProduct,
  onBarrier,
}: TestPatchFieldsProps) {
  const choice = ({ id, name }: Product) => ({ id, words: name });
  return (
    <>
      {products.length > 0 && (
        <ChoiceField
          label="Patch of"
          glove
          chosen={productId ?? null}
          onChoose={onProduct}
          choices={products.map(choice)}
        />
      )}
      {barriers.length > 0 && productId !== undefined && (
        <ChoiceField
          label="Over a barrier of"
          glove
          chosen={barrierId ?? noBarrier}
          onChoose={(id) => onBarrier(id === noBarrier ? undefined : id)}
          choices={[{ id: noBarrier, words: "No barrier" }, ...barriers.map(choice)]}
        />
      )}
    </>
  );
}
