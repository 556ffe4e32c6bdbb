import { stages } from "~/core/shop/entities/pieces";
import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import type { SieveWord } from "~/ui/kit/sieve";
import { stageWords } from "~/ui/trade-words";
import type { Outlook } from "./outlook";
import { isForNextHour } from "./plate-view";

export type SieveId = "everything" | "mine" | "next-hour" | "place" | "stage";

export const isMine = ({ claims, running }: Outlook, memberId: string | undefined): boolean =>
  memberId !== undefined &&
  (claims.some((claim) => claim.memberIds.includes(memberId)) || running.some((entry) => entry.memberId === memberId));

export const sieveWords = (outlooks: readonly Outlook[], now: InstantMs, isWide: boolean): SieveWord<SieveId>[] => [
  { id: "everything", words: isWide ? "Everything" : "All", count: outlooks.length },
  { id: "mine", words: "Mine" },
  { id: "next-hour", words: "Next hour", count: outlooks.filter((outlook) => isForNextHour(outlook, now)).length },
  { id: "place", words: isWide ? "By place" : "Place" },
  { id: "stage", words: isWide ? "By stage" : "Stage" },
];

export type FloorGroup = { id: string; heading?: string; outlooks: Outlook[] };

/** The pieces that pass, in the order given; by place and by stage under a heading each. */
export function sieved(
  outlooks: readonly Outlook[],
  sieve: SieveId,
  { facts, memberId, now }: { facts: Facts; memberId: string | undefined; now: InstantMs },
): FloorGroup[] {
  const all = [...outlooks];
  if (sieve === "mine") return [{ id: sieve, outlooks: all.filter((outlook) => isMine(outlook, memberId)) }];
  if (sieve === "next-hour") return [{ id: sieve, outlooks: all.filter((outlook) => isForNextHour(outlook, now)) }];
  if (sieve === "everything") return [{ id: sieve, outlooks: all }];
  const heads =
    sieve === "place"
      ? facts.all("room").map((room) => ({ id: room.id, heading: room.name }))
      : stages.toReversed().map((stage) => ({ id: stage, heading: capital(stageWords[stage]) }));
  return heads
    .map((head) => ({
      ...head,
      outlooks: all.filter(({ piece }) => (sieve === "place" ? piece.roomId : piece.stage) === head.id),
    }))
    .filter((group) => group.outlooks.length > 0);
}

const capital = (words: string) => `${words[0]?.toUpperCase() ?? ""}${words.slice(1)}`;
