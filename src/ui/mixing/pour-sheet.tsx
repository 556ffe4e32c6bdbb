"use client";
import { useState } from "react";
import { correctedPour, hardenerFor } from "~/core/coating/two-part";
import { NumberField } from "../kit/number-field";
import { Picks } from "../kit/picks";
import { Sheet } from "../kit/sheet";

type Unit = "ml" | "fl oz";
const unitPicks = [
  { id: "ml" as const, words: "ml" },
  { id: "fl oz" as const, words: "fl oz" },
];

/** What to add, or that nothing is missing. The order says the act first. */
export function pourOrder(base: number, hardener: number, perMille: number, unit: Unit): string {
  if (Number.isNaN(base) || Number.isNaN(hardener)) return "Write down both amounts.";
  const more = correctedPour({ base, hardener }, perMille);
  const figure = (value: number) => `${Number(value.toFixed(value < 100 ? 1 : 0))} ${unit}`;
  if (more.base >= 0.05) return `Add ${figure(more.base)} of base.`;
  if (more.hardener >= 0.05) return `Add ${figure(more.hardener)} of hardener.`;
  return "The pour is right. Add nothing.";
}

type PourSheetProps = { perMille: number; close: () => void };

/** Hardener cannot be taken out of a pot: the other part is added until the ratio of the can holds again. */
export function PourSheet({ perMille, close }: PourSheetProps) {
  const [unit, setUnit] = useState<Unit>("ml");
  const [base, setBase] = useState(Number.NaN);
  const [hardener, setHardener] = useState(Number.NaN);
  const figures = { unit, glove: true, minValue: 0, formatOptions: { maximumFractionDigits: 2 } };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="Put the pour right" leaveWords="Done">
      <p className="why">
        {Number(hardenerFor(100, perMille).toFixed(2))} parts of hardener to 100 of base, by volume. The can outranks
        this.
      </p>
      <Picks label="Unit" picks={unitPicks} chosen={unit} onChoose={setUnit} />
      <NumberField label="Base in the pot" {...figures} value={base} onChange={setBase} autoFocus />
      <NumberField label="Hardener poured" {...figures} value={hardener} onChange={setHardener} />
      <p className="order" aria-live="polite">
        {pourOrder(base, hardener, perMille, unit)}
      </p>
    </Sheet>
  );
}
