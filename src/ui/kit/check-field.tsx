"use client";
import { Check } from "lucide-react";
import { useId } from "react";
import { Checkbox } from "react-aria-components/Checkbox";
import type { FieldProps } from "./field-props";

export type CheckFieldProps = Omit<FieldProps, "glove"> & {
  isChecked?: boolean;
  isFirstChecked?: boolean;
  onChange?: (isChecked: boolean) => void;
};

/** A statement that is true or not: "This is my own phone. Keep me in." Never a box to tick work off with. */
export function CheckField({ label, note, error, ...field }: CheckFieldProps) {
  const { isChecked, isFirstChecked, onChange, name, isRequired } = field;
  const underId = useId();
  const hasUnder = note !== undefined || error !== undefined;
  return (
    <div className="field">
      <Checkbox
        className="check"
        name={name}
        isRequired={isRequired}
        isSelected={isChecked}
        defaultSelected={isFirstChecked}
        onChange={onChange}
        isInvalid={error !== undefined}
        validationBehavior="aria"
        aria-describedby={hasUnder ? underId : undefined}
      >
        <span className="check-box">
          <Check aria-hidden="true" size={20} strokeWidth={3} />
        </span>
        {label}
      </Checkbox>
      {hasUnder && (
        <div id={underId}>
          {note !== undefined && <p className="field-note">{note}</p>}
          {error !== undefined && <p className="field-error">{error}</p>}
        </div>
      )}
    </div>
  );
}
