"use client";
import { useState } from "react";
import { type Cup, cupReading, cups, millipascalSeconds } from "~/core/coating/viscosity";
import { ChoiceField } from "../kit/choice-field";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";

const cupWords: Record<Cup, string> = {
  "zahn-1": "Zahn No. 1",
  "zahn-2": "Zahn No. 2",
  "zahn-3": "Zahn No. 3",
  "zahn-4": "Zahn No. 4",
  "zahn-5": "Zahn No. 5",
  "ford-2": "Ford No. 2",
  "ford-3": "Ford No. 3",
  "ford-4": "Ford No. 4",
  "iso-3": "ISO 3 mm",
  "iso-4": "ISO 4 mm",
  "iso-5": "ISO 5 mm",
  "iso-6": "ISO 6 mm",
};

/** What the seconds say: a viscosity, or that this cup cannot tell. */
export function cupAnswer(cup: Cup, seconds: number, kilogramsPerLitre: number): string {
  if (Number.isNaN(seconds)) return "Write down the seconds.";
  const reading = cupReading(cup, seconds);
  if (reading.kind === "outside")
    return `This cup tells from ${reading.fromSeconds} to ${reading.toSeconds} s only. Take a ${reading.take === "finer-cup" ? "finer" : "coarser"} cup.`;
  const kinematic = `${Math.round(reading.centistokes)} mm²/s`;
  if (Number.isNaN(kilogramsPerLitre)) return kinematic;
  return `${kinematic}, ${Math.round(millipascalSeconds(reading.centistokes, kilogramsPerLitre))} mPa·s`;
}

/** Seconds of a flow cup as a viscosity, to mix the next pot as thin as this one. */
export function CupSheet({ close }: { close: () => void }) {
  const [cup, setCup] = useState<Cup>("zahn-2");
  const [seconds, setSeconds] = useState(Number.NaN);
  const [density, setDensity] = useState(Number.NaN);
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="Flow cup" leaveWords="Done">
      <ChoiceField
        label="Cup"
        glove
        choices={cups.map((id) => ({ id, words: cupWords[id] }))}
        chosen={cup}
        onChoose={setCup}
      />
      <NumberField
        label="Until the stream breaks"
        unit="s"
        glove
        minValue={1}
        maxValue={300}
        formatOptions={{ maximumFractionDigits: 1 }}
        value={seconds}
        onChange={setSeconds}
        note="Stirred, strained, near 23 to 25 °C."
      />
      <NumberField
        label="Density, if the sheet says"
        unit="kg/L"
        glove
        minValue={0.5}
        maxValue={3}
        formatOptions={{ maximumFractionDigits: 2 }}
        value={density}
        onChange={setDensity}
      />
      <p className="order" aria-live="polite">
        {cupAnswer(cup, seconds, density)}
      </p>
      <p className="why">
        Thick paint does not flow evenly: for it the seconds are a number to repeat, not a property.
      </p>
    </Sheet>
  );
}
