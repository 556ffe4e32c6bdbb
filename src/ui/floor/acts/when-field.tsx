"use client";
import type { InstantMs, ShopDay } from "~/core/units";
import { InstantField } from "~/ui/kit/instant-field";
import { RadioField } from "~/ui/kit/radio-field";
import { lastDays, type TypedWhen, whenTyped } from "./typed-when";

export type WhenFieldProps = {
  label: string;
  when: TypedWhen;
  onChange: (when: TypedWhen) => void;
  today: ShopDay;
  now: InstantMs;
  zone: string;
  /** Shown once the person has pressed the main key without a time that can be read. */
  showsError: boolean;
};

/** Just now, or earlier: then the wall time, and which of the two when the clocks go back. */
export function WhenField({ label, when, onChange, today, now, zone, showsError }: WhenFieldProps) {
  const found = whenTyped(when, now, zone);
  return (
    <>
      <RadioField
        label={label}
        glove
        chosen={when.isEarlier ? "earlier" : "now"}
        onChoose={(id) => onChange({ ...when, isEarlier: id === "earlier" })}
        choices={[
          { id: "now", words: "Just now" },
          { id: "earlier", words: "Earlier" },
        ]}
      />
      {when.isEarlier && (
        <InstantField
          label="At what time"
          glove
          value={when.wall}
          onChange={(wall) => onChange({ ...when, wall })}
          days={lastDays(today, now, zone)}
          error={showsError && !found.ok ? found.refusal : undefined}
        />
      )}
      {when.isEarlier && found.ok && found.value.isTwice && (
        <RadioField
          label="The clock showed that time twice"
          glove
          chosen={when.choice}
          onChoose={(choice) => onChange({ ...when, choice })}
          choices={[
            { id: "first", words: "The first time", detail: "before the clocks went back" },
            { id: "second", words: "The second time", detail: "after" },
          ]}
        />
      )}
    </>
  );
}
