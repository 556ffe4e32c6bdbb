"use client";
import type { Thinning } from "~/core/coating/thinning";
import { NumberField } from "../kit/number-field";
import { Picks } from "../kit/picks";
import { percent } from "./amount-words";
import type { BatchShown } from "./mixing-view";

type Way = "none" | "parts" | "percent";

const wayOf = (thinning: Thinning): Way =>
  thinning.by === "parts" ? "parts" : thinning.ofPaint === 0 ? "none" : "percent";

const first: Record<Way, (shown: BatchShown) => Thinning> = {
  none: () => ({ by: "percent", ofPaint: 0 }),
  parts: ({ sheet }) => ({
    by: "parts",
    paint: sheet.thinParts?.product ?? 10,
    thinner: sheet.thinParts?.thinner ?? 1,
  }),
  percent: ({ sheet }) => ({ by: "percent", ofPaint: Math.min(10, sheet.thinLimitPercent ?? 10) || 10 }),
};

type ThinnerFieldProps = { shown: BatchShown; onChange: (thinning: Thinning) => void };

/** Thinner in parts or in per cent of the paint: two ways of writing that are never read as one another. */
export function ThinnerField({ shown, onChange }: ThinnerFieldProps) {
  const { thinning, thinnerName, sheet } = shown;
  const whole = (value: number) => (Number.isNaN(value) ? 1 : value);
  const limit = sheet.thinLimitPercent;
  const note = limit === undefined ? undefined : `The sheet allows ${percent(limit)} of the paint.`;
  return (
    <div className="thinner-field">
      <Picks
        label={`Thin with ${thinnerName}`}
        picks={[
          { id: "none", words: `No ${thinnerName}` },
          { id: "parts", words: "By parts" },
          { id: "percent", words: "By per cent" },
        ]}
        chosen={wayOf(thinning)}
        onChoose={(way) => onChange(first[way](shown))}
      />
      {thinning.by === "parts" && (
        <div className="thinner-figures">
          <NumberField
            label="Paint"
            unit="parts"
            glove
            minValue={1}
            maxValue={1000}
            value={thinning.paint}
            onChange={(paint) => onChange({ ...thinning, paint: whole(paint) })}
          />
          <NumberField
            label={`To ${thinnerName}`}
            unit="parts"
            glove
            minValue={1}
            maxValue={1000}
            value={thinning.thinner}
            onChange={(thinner) => onChange({ ...thinning, thinner: whole(thinner) })}
            note={note}
          />
        </div>
      )}
      {thinning.by === "percent" && thinning.ofPaint > 0 && (
        <NumberField
          label={`Parts of ${thinnerName} to 100 of paint`}
          unit="% of the paint"
          glove
          minValue={1}
          maxValue={300}
          value={thinning.ofPaint}
          onChange={(ofPaint) => onChange({ by: "percent", ofPaint: whole(ofPaint) })}
          note={note}
        />
      )}
    </div>
  );
}
