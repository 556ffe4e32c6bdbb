"use client";
import type { Product, Sheet } from "~/core/shop/tables";
import { useNow } from "~/device/react";
import { Key, Keys } from "~/ui/kit/key";
import { useAct } from "~/ui/shell/act";
import { factorView } from "./factor-view";
import "./factor.css";

type FactorPartProps = { product: Product; sheet?: Sheet; mayPlan: boolean };

/** What this shop's own tests say of a product, how sure that is, what it changes, and the switch. */
export function FactorPart({ product, sheet, mayPlan }: FactorPartProps) {
  const now = useNow(60_000);
  const act = useAct();
  const view = factorView(product, sheet, now);
  const switchIt = () =>
    act(
      "set-factor",
      { productId: product.id, isFactorOn: !view.isOn },
      { name: product.name, said: view.isOn ? "Estimates go by the sheet alone." : "Estimates go by your tests too." },
    );
  return (
    <section className="factor" data-off={!view.isOn || undefined}>
      <h3>Your own times</h3>
      <p>
        <b>{view.head}</b>
      </p>
      <p className="factor-sure">{view.sure}</p>
      {view.isOn ? view.day !== "" && <p>{view.day}</p> : <p>Switched off: estimates go by the sheet alone.</p>}
      {mayPlan && (view.tests > 0 || !view.isOn) && (
        <Keys>
          <Key onPress={() => void switchIt()}>{view.isOn ? "Go by the sheet alone" : "Go by your tests again"}</Key>
        </Keys>
      )}
    </section>
  );
}
