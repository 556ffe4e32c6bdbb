"use client";
import { FieldError } from "react-aria-components/FieldError";
import { Group } from "react-aria-components/Group";
import { Input } from "react-aria-components/Input";
import { Label } from "react-aria-components/Label";
import {
  NumberField as AriaNumberField,
  type NumberFieldProps as AriaNumberFieldProps,
} from "react-aria-components/NumberField";
import { Text } from "react-aria-components/Text";
import type { FieldProps } from "./field-props";

export type NumberFieldProps = FieldProps &
  Pick<
    AriaNumberFieldProps,
    "value" | "defaultValue" | "onChange" | "onBlur" | "minValue" | "maxValue" | "step" | "formatOptions" | "autoFocus"
  > & {
    /** Always shown after the figure and read with its name: "°C", "% RH", "µm". */
    unit: string;
  };

/** A figure with its unit. An emptied field gives NaN, so that "nothing" is never read as zero. */
export function NumberField({ label, note, error, glove, unit, ...field }: NumberFieldProps) {
  return (
    <AriaNumberField
      {...field}
      className="field"
      data-glove={glove || undefined}
      isInvalid={error !== undefined}
      validationBehavior="aria"
    >
      <Label>
        {label}
        <span className="sr-only">, {unit}</span>
      </Label>
      <Group className="field-box field-with-unit">
        <Input />
        <span aria-hidden="true">{unit}</span>
      </Group>
      {note !== undefined && (
        <Text slot="description" className="field-note">
          {note}
        </Text>
      )}
      <FieldError className="field-error">{error}</FieldError>
    </AriaNumberField>
  );
}
