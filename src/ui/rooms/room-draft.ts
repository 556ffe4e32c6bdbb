/** A room while it is added or changed, and the intents that come of it. */
import { accept, type Result, refuse } from "~/core/result";
import type { Room } from "~/core/shop/tables";

export type RoomDraft = Pick<
  Room,
  "name" | "uses" | "usualCelsius" | "usualHumidityPercent" | "gapLimitMin" | "hasOpenFlame"
>;

export type RoomErrors = Partial<Record<"name" | "uses" | "usual" | "gap", string>>;

/** Indoor air of a heated workshop (common practice); the gap, as for a room read morning, noon and evening. */
export const newRoom: RoomDraft = {
  name: "",
  uses: [],
  usualCelsius: 18,
  usualHumidityPercent: 50,
  gapLimitMin: 180,
  hasOpenFlame: false,
};

export const roomDraftOf = ({
  name,
  uses,
  usualCelsius,
  usualHumidityPercent,
  gapLimitMin,
  hasOpenFlame,
}: Room): RoomDraft => ({
  name,
  uses,
  usualCelsius,
  usualHumidityPercent,
  gapLimitMin,
  hasOpenFlame,
});

export function checkedRoom(draft: RoomDraft): Result<RoomDraft, RoomErrors> {
  const errors: RoomErrors = {};
  if (draft.name.trim() === "") errors.name = "Write what the shop calls it.";
  if (draft.uses.length === 0) errors.uses = "Say at least one thing that it is for.";
  if (Number.isNaN(draft.usualCelsius) || Number.isNaN(draft.usualHumidityPercent))
    errors.usual = "Write both figures.";
  if (Number.isNaN(draft.gapLimitMin)) errors.gap = "Write how many minutes.";
  return Object.keys(errors).length === 0 ? accept({ ...draft, name: draft.name.trim() }) : refuse(errors);
}

export type FieldChange = { field: keyof RoomDraft; was: unknown; value: unknown };

/** One change per field, each with what it was, so that nobody's change is overwritten unseen. */
export function roomChanges(room: Room, draft: RoomDraft): FieldChange[] {
  const before = roomDraftOf(room);
  const fields = Object.keys(before) as (keyof RoomDraft)[];
  return fields
    .filter((field) => JSON.stringify(before[field]) !== JSON.stringify(draft[field]))
    .map((field) => ({ field, was: before[field], value: draft[field] }));
}
