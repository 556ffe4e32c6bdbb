"use client";
import { ToggleButton } from "react-aria-components/ToggleButton";
import { ToggleButtonGroup } from "react-aria-components/ToggleButtonGroup";

export type PickChoice<Id extends string> = { id: Id; words: string; detail?: string };

export type PicksProps<Id extends string> = {
  label: string;
  picks: PickChoice<Id>[];
  chosen: Id;
  onChoose: (id: Id) => void;
};

/** A few choices side by side, glove size: the room, the time one has, the light. */
export function Picks<Id extends string>({ label, picks, chosen, onChoose }: PicksProps<Id>) {
  return (
    <ToggleButtonGroup
      className="picks"
      aria-label={label}
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={[chosen]}
      onSelectionChange={(keys) => {
        for (const { id } of picks) if (keys.has(id)) onChoose(id);
      }}
    >
      {picks.map(({ id, words, detail }) => (
        <ToggleButton key={id} id={id}>
          <span>{words}</span>
          {detail !== undefined && <small> {detail}</small>}
        </ToggleButton>
      ))}
    </ToggleButtonGroup>
  );
}
