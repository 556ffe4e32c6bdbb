/** What a refusal's words are made of. */
import { roundUpToMinute } from "~/core/cure/joint";
import { roundUpToFiveMin } from "~/core/cure/next-gate";
import type { RefusalKind, RefusalOf } from "~/core/shop/refusal";
import type { InstantMs } from "~/core/units";
import { moment } from "../format";
import { listed } from "../trade-words";

/** Names for the ids in a refusal, as this device or the server knows them. */
export type Names = {
  member: (id: string | undefined) => string;
  surface: (id: string | undefined) => string;
  room: (id: string | undefined) => string;
  task: (id: string | undefined) => string;
  joint: (id: string | undefined) => string;
};

export type WordingContext = { names: Names; now: InstantMs; zone: string };

/** `title` begins with "Not yet" or "No"; the three below answer what, why and what else. */
export type Words = { title: string; found: string; why?: string; instead?: string };

/** The words of some kinds of refusal; `wording.ts` puts them together, and lacks none. */
export type WordsByKind = { [Kind in RefusalKind]: (refusal: RefusalOf<Kind>, c: WordingContext) => Words };

export const at = (instant: InstantMs | undefined, c: WordingContext): string =>
  instant === undefined ? "a time that cannot be said yet" : moment(instant, c.now, c.zone);

/** A film's moment is shown rounded up: never earlier than it is. */
export const opensAt = (instant: InstantMs | undefined, c: WordingContext): string =>
  at(instant === undefined ? undefined : roundUpToFiveMin(instant), c);

/** Clamps are shown to the minute, rounded up. */
export const clampAt = (instant: InstantMs | undefined, c: WordingContext): string =>
  at(instant === undefined ? undefined : roundUpToMinute(instant), c);

export const tenth = (value: number): number => Math.round(value * 10) / 10;

/** The faces that hold a gate, by name. */
export const holder = (refusal: Pick<RefusalOf<"gate-shut">, "heldBy">, c: WordingContext): string => {
  const { heldBy } = refusal;
  if (!heldBy) return "the film";
  const [first, second] = [heldBy.surfaceId, heldBy.surfaceB].map((id) => (id ? c.names.surface(id) : undefined));
  return listed([first, second].filter((name) => name !== undefined)) || "the film";
};
