import type { ReactNode } from "react";

/** What every field has: its name in words, a note under it, and room for what is wrong with it. */
export type FieldProps = {
  label: string;
  note?: ReactNode;
  /** What was found and what to do; the field is marked and described by it. */
  error?: string;
  /** The name under which a form sends it. */
  name?: string;
  isRequired?: boolean;
  glove?: boolean;
};
