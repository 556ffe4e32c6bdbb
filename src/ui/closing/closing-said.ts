/** What somebody who goes round has said on this screen, until the shop is closed up. */
import { type ClosingPoint, leftPoints, type StillOpen } from "~/core/safety/closing";
import type { Row } from "~/core/shop/tables";
import { listed } from "~/ui/trade-words";

/** Seen and right, or left as it is and why. */
export type Said = { answer: "clear" } | { answer: "left"; why: string };

/** By point; a room's flame by `flame:` and its id. */
export type SaidByKey = Readonly<Record<string, Said | undefined>>;

export const flameKey = (roomId: string): string => `flame:${roomId}`;
/** Where no room is known to have a flame, somebody still looks for a candle or a torch. */
export const anyFlame = "flames";

export const flameKeys = (open: Pick<StillOpen, "flameRooms">): string[] =>
  open.flameRooms.length === 0 ? [anyFlame] : open.flameRooms.map((room) => flameKey(room.id));

type Answer = Row<"closing">["answers"][number];

/** One answer for the flames of all rooms: clear only if every one was seen to be out. */
function flamesAnswer(open: StillOpen, said: SaidByKey): Answer[] {
  const each = flameKeys(open).map((key) => said[key]);
  if (each.some((one) => one === undefined)) return [];
  const whys = each.flatMap((one) => (one?.answer === "left" ? [one.why] : []));
  return [
    whys.length === 0
      ? { point: "flames", answer: "clear" }
      : { point: "flames", answer: "left", why: listed([...new Set(whys)]) },
  ];
}

/**
 * The answers as the rules want them, from what was said here.
 *
 * @param waiting changes on this device that have not been sent
 */
export function answersFrom(open: StillOpen, said: SaidByKey, waiting: number): Answer[] {
  const told = (point: ClosingPoint): Answer[] => {
    const one = said[point];
    return one ? [{ point, ...one }] : [];
  };
  return [
    { point: "rags", answer: "clear" },
    ...flamesAnswer(open, said),
    ...told("heater"),
    ...leftPoints(open).flatMap(told),
    waiting > 0
      ? {
          point: "unsent",
          answer: "left",
          why: `No signal yet for ${waiting === 1 ? "one change" : `${waiting} changes`}`,
        }
      : { point: "unsent", answer: "clear" },
  ];
}

/** Leaving anything is said as done, with its reasons; otherwise the rules are asked. */
export const stanceOf = (answers: readonly Answer[]): "asking" | "done" =>
  answers.some(({ answer }) => answer === "left") ? "done" : "asking";
