"use client";
import { useState } from "react";
import { cutAlcoholGramsPerLitre, cutSolidsPercent, flakesGramsPerLitre } from "~/core/coating/shellac-cut";
import { cautionsFor } from "~/core/safety/cautions";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";
import { Cautions } from "../piece/cautions";

/** "Weigh 120 g of flakes." and what comes out of it. */
export function cutAnswer(cutPounds: number, alcoholMillilitres: number): [order: string, detail: string] | undefined {
  if (Number.isNaN(cutPounds) || Number.isNaN(alcoholMillilitres)) return undefined;
  const grams = (flakesGramsPerLitre(cutPounds) * alcoholMillilitres) / 1000;
  const solids = cutSolidsPercent(cutPounds).toFixed(0);
  const alcohol = Math.round(cutAlcoholGramsPerLitre(cutPounds));
  return [
    `Weigh ${grams < 20 ? grams.toFixed(1) : Math.round(grams)} g of flakes.`,
    `About ${solids} % volume solids, and ${alcohol} g of alcohol vapour from each litre.`,
  ];
}

/** Flakes for a cut. */
export function ShellacSheet({ close }: { close: () => void }) {
  const [cutPounds, setCut] = useState(2);
  const [alcohol, setAlcohol] = useState(500);
  const answer = cutAnswer(cutPounds, alcohol);
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="Shellac cut" leaveWords="Done">
      <NumberField
        label="Cut"
        unit="lb"
        glove
        minValue={0.5}
        maxValue={5}
        step={0.5}
        formatOptions={{ maximumFractionDigits: 1 }}
        value={cutPounds}
        onChange={setCut}
        note="Pounds of flakes to a US gallon of alcohol: 1 to seal, 2 to build."
      />
      <NumberField
        label="Alcohol"
        unit="ml"
        glove
        minValue={10}
        maxValue={20_000}
        value={alcohol}
        onChange={setAlcohol}
      />
      <div aria-live="polite">
        {answer && (
          <>
            <p className="order">{answer[0]}</p>
            <p className="why">{answer[1]} Write the day on the jar: mixed shellac keeps for half a year to a year.</p>
          </>
        )}
      </div>
      <Cautions cautions={cautionsFor({ methods: [], families: ["shellac"], leadState: "not-painted" })} />
    </Sheet>
  );
}
