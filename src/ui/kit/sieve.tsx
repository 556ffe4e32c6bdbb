"use client";
import { ToggleButton } from "react-aria-components/ToggleButton";
import { ToggleButtonGroup } from "react-aria-components/ToggleButtonGroup";

export type SieveWord<Id extends string> = { id: Id; words: string; count?: number };

export type SieveProps<Id extends string> = {
  /** What it chooses, read aloud: "Show". */
  label: string;
  words: SieveWord<Id>[];
  chosen: Id;
  onChoose: (id: Id) => void;
};

/** Filters as words on a pencil line; the pressed one carries a chalk stroke. */
export function Sieve<Id extends string>({ label, words, chosen, onChoose }: SieveProps<Id>) {
  return (
    <ToggleButtonGroup
      className="sieve"
      aria-label={label}
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={[chosen]}
      onSelectionChange={(keys) => {
        for (const { id } of words) if (keys.has(id)) onChoose(id);
      }}
    >
      {words.map(({ id, words: shown, count }) => (
        <ToggleButton key={id} id={id}>
          {shown}
          {count !== undefined && ` ${count}`}
        </ToggleButton>
      ))}
    </ToggleButtonGroup>
  );
}
