import { dayStartAt } from "~/core/calendar";
import { leadState } from "~/core/safety/lead";
import { nobodySaidBanYear } from "~/core/safety/lead-limits";
import type { pieceKinds, substrates } from "~/core/shop/entities/pieces";
import type { Facts } from "~/core/shop/facts";
import type { HandTest, Piece } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { dayName, duration, moment } from "~/ui/format";
import { laboratoryWords, leadWords } from "./lead-words";

export const kindWords: Record<(typeof pieceKinds)[number], string> = {
  dresser: "Dresser",
  wardrobe: "Wardrobe",
  table: "Table",
  chair: "Chair",
  desk: "Desk",
  chest: "Chest",
  bookcase: "Bookcase",
  nightstand: "Nightstand",
  sideboard: "Sideboard",
  mirror: "Mirror",
  other: "Other",
};

export const substrateWords: Record<(typeof substrates)[number], string> = {
  bare: "bare wood",
  "old-finish": "old finish",
  veneer: "veneer",
  painted: "painted",
  metal: "metal",
  ornament: "applied ornament",
};

const paintedWords = { yes: "Yes", no: "No", unknown: "Not known" };

export type AboutLine = { name: string; words: string; isCaution?: boolean };

/** "132 × 46 × 79 cm" */
export function sizeWords({ widthMillimetres, depthMillimetres, heightMillimetres }: Piece): string | undefined {
  const sides = [widthMillimetres, depthMillimetres, heightMillimetres];
  if (sides.every((side) => side === undefined)) return undefined;
  return `${sides.map((side) => (side === undefined ? "?" : String(Number((side / 10).toFixed(1))))).join(" × ")} cm`;
}

/** What a laboratory measured, by both of the limits. */
const laboratoryLine = ({ kind, measured, subject }: HandTest): AboutLine[] =>
  kind === "lead-laboratory" && measured?.unit === "percent" && subject.of === "paint-layer"
    ? [{ name: `Laboratory, ${subject.layer}`, words: laboratoryWords(measured.value) }]
    : [];

/** The head of the traveller: what it is, what lies in its old paint, where it stands. */
export function aboutLines(facts: Facts, piece: Piece, now: InstantMs): AboutLine[] {
  const shop = facts.all("shop")[0];
  const zone = shop?.zone ?? "UTC";
  const tests = facts.where("test", "pieceId", piece.id);
  const lead = leadWords[leadState(piece, tests, shop?.leadBanYear ?? nobodySaidBanYear, now)];
  const room = facts.get("room", piece.roomId);
  const rack = room?.racks.find(({ rackId }) => rackId === piece.rackId);
  const lines: (AboutLine | undefined)[] = [
    { name: "Kind", words: kindWords[piece.kind] + (piece.partCount > 1 ? `, ${piece.partCount} parts` : "") },
    piece.wood === undefined ? undefined : { name: "Wood", words: piece.wood },
    { name: "Size", words: sizeWords(piece) ?? "Not measured" },
    { name: "Old paint", words: paintedWords[piece.isPainted] },
    { name: "Made", words: piece.madeYear === undefined ? "Year not known" : String(piece.madeYear) },
    { name: "Lead", ...lead },
    ...tests.flatMap(laboratoryLine),
    { name: "Came", words: dayName(dayStartAt(piece.acquiredOn, zone), zone) },
    { name: "Room", words: [room?.name ?? "No room", rack?.name].filter(Boolean).join(", ") },
    { name: "Board", words: facts.get("board", piece.boardId)?.name ?? "No board" },
    { name: "Stage", words: `${piece.stage} since ${moment(piece.stageSinceAt, now, zone)}` },
    piece.estimateMin === undefined
      ? undefined
      : { name: "Estimate", words: `${duration(piece.estimateMin * 60)} of work` },
  ];
  return lines.filter((line) => line !== undefined);
}
