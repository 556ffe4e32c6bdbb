"use client";
import { FieldError } from "react-aria-components/FieldError";
import { Input } from "react-aria-components/Input";
import { Label } from "react-aria-components/Label";
import { Text } from "react-aria-components/Text";
import { TextArea } from "react-aria-components/TextArea";
import { TextField as AriaTextField, type TextFieldProps as AriaTextFieldProps } from "react-aria-components/TextField";
import type { FieldProps } from "./field-props";

export type TextFieldProps = FieldProps &
  Pick<
    AriaTextFieldProps,
    "value" | "defaultValue" | "onChange" | "onBlur" | "type" | "inputMode" | "autoComplete" | "maxLength" | "autoFocus"
  > & {
    /** Room for sentences. */
    lines?: number;
  };

export function TextField({ label, note, error, glove, lines, ...field }: TextFieldProps) {
  return (
    <AriaTextField
      {...field}
      className="field"
      data-glove={glove || undefined}
      isInvalid={error !== undefined}
      validationBehavior="aria"
    >
      <Label>{label}</Label>
      {lines === undefined ? <Input className="field-box" /> : <TextArea className="field-box" rows={lines} />}
      {note !== undefined && (
        <Text slot="description" className="field-note">
          {note}
        </Text>
      )}
      <FieldError className="field-error">{error}</FieldError>
    </AriaTextField>
  );
}
