/** A formula is only asked within the range for which its source gives it: outside, the answer says so. */
export type OutsideRange = {
  kind: "outside-range";
  label: string;
  unit: string;
  found: number;
  min: number;
  max: number;
};

type Range = { label: string; unit: string; min: number; max: number };

/** Nothing if the number lies in the range, both ends included. What is no number lies in none. */
export const outsideRange = (found: number, { label, unit, min, max }: Range): OutsideRange | undefined =>
  found >= min && found <= max ? undefined : { kind: "outside-range", label, unit, found, min, max };
