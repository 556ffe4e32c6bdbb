/**
 * Films from a can past its life. Oil that has lost its power to dry stays sticky for good, so no clock speaks for such a
 * film; only a fingernail that leaves no mark shows that it hardens after all, and from then on it counts like any other.
 */
import type { InstantMs } from "../units";
import { testVerdict } from "./observation";
import type { LaidCoat, Picture } from "./picture";

/** The last moments at which the coat could be tested: before each coat that went over it, and now. */
const testableUntil = (coats: readonly LaidCoat[], index: number, at: InstantMs): InstantMs[] => [
  ...coats.slice(index + 1).map((later) => later.applied.startedAt - 1),
  at,
];

/**
 * The coat of a dead can that nobody has proved hard yet.
 *
 * @param coats that lie on the surface, in the order in which they went on
 */
export const deadCoat = (
  picture: Picture,
  surfaceId: string,
  coats: readonly LaidCoat[],
  at: InstantMs,
): LaidCoat | undefined =>
  coats.find(
    (coat, index) =>
      coat.applied.isFromDeadCan === true &&
      !testableUntil(coats, index, at).some(
        (until) => testVerdict(picture, surfaceId, "light-use", until, undefined).kind === "pass",
      ),
  );
