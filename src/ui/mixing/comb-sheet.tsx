"use client";
import { useState } from "react";
import { dryFilmMicrometres, notchGaugeMicrometres, thinCoatsTimeRatio } from "~/core/coating/film-thickness";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";
import { film } from "./amount-words";

export type Comb = { wetted: number; dry: number; solidsPercent: number; sheetMicrometres: number };

const isTyped = (value: number) => !Number.isNaN(value);

/** What the comb says of the film, and what that means for its drying. */
export function combAnswer({ wetted, dry, solidsPercent, sheetMicrometres }: Comb): string[] {
  if (!isTyped(wetted) || !isTyped(dry)) return ["Write down both notches."];
  if (dry <= wetted) return ["The dry notch is the next deeper one."];
  const found = notchGaugeMicrometres([wetted], [dry]);
  if (!found) return [];
  const answer = [`Wet: ${film([found.from, found.to])}.`];
  if (isTyped(solidsPercent))
    answer.push(
      `Dry: ${film([dryFilmMicrometres(found.from, solidsPercent), dryFilmMicrometres(found.to, solidsPercent)])}.`,
    );
  if (isTyped(sheetMicrometres) && found.to > sheetMicrometres) {
    const longer = thinCoatsTimeRatio([found.to / sheetMicrometres]);
    answer.push(`Thicker than the sheet’s: count on up to ${longer.toFixed(1)} times its hours.`);
  }
  return answer;
}

/** The teeth of a wet-film comb as a film. */
export function CombSheet({ close }: { close: () => void }) {
  const nothing: Comb = {
    wetted: Number.NaN,
    dry: Number.NaN,
    solidsPercent: Number.NaN,
    sheetMicrometres: Number.NaN,
  };
  const [comb, setComb] = useState(nothing);
  const figure = (label: string, unit: string, name: keyof Comb, note?: string) => (
    <NumberField
      label={label}
      unit={unit}
      glove
      minValue={1}
      maxValue={3000}
      value={comb[name]}
      onChange={(value) => setComb({ ...comb, [name]: value })}
      note={note}
    />
  );
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="Wet-film comb" leaveWords="Done">
      {figure("Deepest notch that got wet", "µm", "wetted", "Read within seconds; of no use on very fast lacquers.")}
      {figure("Next one, still dry", "µm", "dry")}
      {figure("Volume solids as mixed, if known", "%", "solidsPercent")}
      {figure("The sheet’s wet film, if known", "µm", "sheetMicrometres")}
      <div aria-live="polite">
        {combAnswer(comb).map((line) => (
          <p key={line} className="order">
            {line}
          </p>
        ))}
      </div>
    </Sheet>
  );
}
