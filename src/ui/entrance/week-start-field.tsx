import { ChoiceField } from "../kit/choice-field";

/** ISO 8601 weekdays, 1 Monday to 7 Sunday. */
export const weekdays = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

type WeekStartFieldProps = { value: number; onChange: (weekday: number) => void };

export function WeekStartField({ value, onChange }: WeekStartFieldProps) {
  return (
    <ChoiceField
      label="The week starts on"
      choices={weekdays.map((words, index) => ({ id: String(index + 1), words }))}
      chosen={String(value)}
      onChoose={(weekday) => onChange(Number(weekday))}
    />
  );
}
