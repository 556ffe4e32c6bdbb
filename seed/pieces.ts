/** The pieces of the invented shop. */
import type { Piece, Surface } from "~/core/shop/tables";
import { idOf } from "./names";
import type { ProductCode } from "./products";
import type { RoomName } from "./rooms";

type SurfacePlan = Pick<Surface, "name" | "squareDecimetres"> &
  Partial<Pick<Surface, "substrate" | "isPaleWanted" | "bleedRisk">>;

export type PiecePlan = Pick<Piece, "name" | "kind" | "partCount" | "wood" | "stage" | "isPainted"> & {
  /** Width, depth, height. */
  centimetres: readonly [number, number, number];
  room: RoomName;
  /** Bought so many days before the Monday of the week in which its tag was written; negative in that week. */
  boughtDaysBefore: number;
  surfaces: readonly SurfacePlan[];
  /** The two surfaces that will lie on each other. */
  pair?: readonly [string, string, "assembled" | "leaf"];
  /** The same on every surface, from the wood up. */
  schedule: readonly ProductCode[];
};

const plain = { substrate: "bare", bleedRisk: "no" } as const;

export const pieces = {
  "K-201": {
    name: "Six-drawer dresser",
    kind: "dresser",
    partCount: 7,
    wood: "maple",
    stage: "prep",
    isPainted: "no",
    centimetres: [132, 46, 79],
    room: "loft",
    boughtDaysBefore: 17,
    schedule: ["W1", "W1"],
    surfaces: [
      { name: "body", squareDecimetres: 310, ...plain },
      { name: "drawer fronts", squareDecimetres: 120, ...plain },
    ],
    pair: ["body", "drawer fronts", "assembled"],
  },
  "K-202": {
    name: "Pine wardrobe",
    kind: "wardrobe",
    partCount: 3,
    wood: "pine",
    stage: "prep",
    isPainted: "no",
    centimetres: [104, 55, 188],
    room: "loft",
    boughtDaysBefore: 12,
    schedule: ["PR", "W1", "W1"],
    surfaces: [
      { name: "carcass", squareDecimetres: 520, bleedRisk: "yes" },
      { name: "doors", squareDecimetres: 160, bleedRisk: "yes" },
    ],
    pair: ["carcass", "doors", "assembled"],
  },
  "K-203": {
    name: "Round pedestal table with a leaf",
    kind: "table",
    partCount: 3,
    wood: "oak",
    stage: "prep",
    isPainted: "no",
    centimetres: [110, 110, 76],
    room: "loft",
    boughtDaysBefore: 9,
    schedule: ["O2", "O2", "O2"],
    surfaces: [
      { name: "top", squareDecimetres: 140, ...plain },
      { name: "leaf", squareDecimetres: 50, ...plain },
      { name: "base", squareDecimetres: 130, ...plain },
    ],
    pair: ["top", "leaf", "leaf"],
  },
  "K-204": {
    name: "Four ladder-back chairs",
    kind: "chair",
    partCount: 4,
    wood: "beech",
    stage: "repair",
    isPainted: "no",
    centimetres: [45, 42, 98],
    room: "coldBay",
    boughtDaysBefore: 5,
    schedule: ["L1", "L1"],
    surfaces: ["chair 1", "chair 2", "chair 3", "chair 4"].map((name) => ({ name, squareDecimetres: 90, ...plain })),
  },
  "K-205": {
    name: "Writing desk, to be pale",
    kind: "desk",
    partCount: 4,
    wood: "red-brown, unknown",
    stage: "prep",
    isPainted: "no",
    centimetres: [120, 60, 76],
    room: "loft",
    boughtDaysBefore: 3,
    schedule: ["W1", "W1"],
    surfaces: [
      { name: "body", squareDecimetres: 280, isPaleWanted: true, bleedRisk: "unknown" },
      { name: "drawer fronts", squareDecimetres: 60, isPaleWanted: true, bleedRisk: "unknown" },
    ],
    pair: ["body", "drawer fronts", "assembled"],
  },
  "K-206": {
    name: "Painted blanket chest",
    kind: "chest",
    partCount: 1,
    wood: "unknown",
    stage: "acquisition",
    isPainted: "yes",
    centimetres: [98, 45, 50],
    room: "coldBay",
    boughtDaysBefore: 2,
    schedule: [],
    surfaces: [{ name: "outside", squareDecimetres: 220, substrate: "painted" }],
  },
  "K-207": {
    name: "Glazed bookcase",
    kind: "bookcase",
    partCount: 3,
    wood: "walnut, solid and veneer",
    stage: "finish",
    isPainted: "no",
    centimetres: [90, 32, 195],
    room: "loft",
    boughtDaysBefore: 23,
    schedule: ["O1", "W2", "W2"],
    surfaces: [
      { name: "carcass", squareDecimetres: 430, substrate: "veneer", bleedRisk: "no" },
      { name: "doors", squareDecimetres: 130, ...plain },
    ],
    pair: ["carcass", "doors", "assembled"],
  },
  "K-208": {
    name: "Pair of nightstands",
    kind: "nightstand",
    partCount: 4,
    wood: "cherry",
    stage: "prep",
    isPainted: "no",
    centimetres: [45, 38, 62],
    room: "loft",
    boughtDaysBefore: 7,
    schedule: ["L1", "L1"],
    surfaces: [
      { name: "cases", squareDecimetres: 210, ...plain },
      { name: "drawer fronts", squareDecimetres: 80, ...plain },
    ],
    pair: ["cases", "drawer fronts", "assembled"],
  },
  "K-209": {
    name: "Sideboard",
    kind: "sideboard",
    partCount: 3,
    wood: "oak",
    stage: "listed",
    isPainted: "no",
    centimetres: [150, 48, 85],
    room: "outlet",
    boughtDaysBefore: 53,
    schedule: [],
    surfaces: [{ name: "outside", squareDecimetres: 400, substrate: "old-finish", bleedRisk: "no" }],
  },
  // bought as one lot on Saturday
  "K-210": {
    name: "Washstand",
    kind: "other",
    partCount: 2,
    wood: "pine",
    stage: "acquisition",
    isPainted: "no",
    centimetres: [76, 42, 80],
    room: "coldBay",
    boughtDaysBefore: -5,
    schedule: ["W1", "W1"],
    surfaces: [{ name: "outside", squareDecimetres: 190, ...plain }],
  },
  "K-211": {
    name: "Workshop stool",
    kind: "chair",
    partCount: 1,
    wood: "beech",
    stage: "acquisition",
    isPainted: "no",
    centimetres: [36, 36, 62],
    room: "coldBay",
    boughtDaysBefore: -5,
    schedule: ["W1", "W1", "W1"],
    surfaces: [{ name: "seat and legs", squareDecimetres: 60, ...plain }],
  },
  "K-212": {
    name: "Mirror frame",
    kind: "mirror",
    partCount: 1,
    wood: "oak",
    stage: "acquisition",
    isPainted: "no",
    centimetres: [70, 5, 110],
    room: "coldBay",
    boughtDaysBefore: -5,
    schedule: ["O2", "O2", "O2"],
    surfaces: [{ name: "frame", squareDecimetres: 50, ...plain }],
  },
  // bought in the week after
  "K-213": {
    name: "Two-shelf side table",
    kind: "table",
    partCount: 1,
    wood: "ash",
    stage: "acquisition",
    isPainted: "no",
    centimetres: [50, 40, 60],
    room: "loft",
    boughtDaysBefore: -2,
    schedule: ["O1", "W2", "W2"],
    surfaces: [
      { name: "top", squareDecimetres: 40, ...plain },
      { name: "base", squareDecimetres: 70, ...plain },
    ],
  },
} as const satisfies Record<string, PiecePlan>;
export type PieceNumber = keyof typeof pieces;

export const pieceIdOf = (piece: PieceNumber): string => idOf(`piece ${piece}`);
export const surfaceIdOf = (piece: PieceNumber, surface: string): string => idOf(`surface ${piece} ${surface}`);
export const pairIdOf = (piece: PieceNumber): string => idOf(`pair ${piece}`);
export const surfaceNamesOf = (piece: PieceNumber): string[] => pieces[piece].surfaces.map(({ name }) => name);
/** @param coat the place in the schedule and the product, `2 W1` */
export const plannedCoatIdOf = (piece: PieceNumber, surface: string, coat: string): string =>
  idOf(`coat ${piece} ${surface} ${coat}`);
