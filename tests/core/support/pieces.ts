/** Rows of a piece, its film and its work, with everything filled in that a test does not care about. */
import type { Row } from "~/core/shop/tables";
import { dayMs, hourMs, type InstantMs } from "~/core/units";
import { board, fern, id, loft, monday8, type Rows, shopWith } from "./people";

export const dresser = id(101);
export const top = id(102);
export const paint = id(111);
export const paintSheet = id(112);

export const aPiece = (row: Partial<Row<"piece">> = {}): Row<"piece"> => ({
  id: dresser,
  number: "K-201",
  boardId: board,
  name: "Tall dresser",
  kind: "dresser",
  partCount: 7,
  stage: "finish",
  stageSinceAt: monday8 - 5 * dayMs,
  roomId: loft,
  acquiredOn: "2026-10-01",
  isPainted: "no",
  ...row,
});

export const aStay = (row: Partial<Row<"roomStay">> = {}): Row<"roomStay"> => ({
  id: id(103),
  pieceId: dresser,
  roomId: loft,
  fromAt: monday8 - 25 * dayMs,
  how: "arrived",
  ...row,
});

export const aSurface = (row: Partial<Row<"surface">> = {}): Row<"surface"> => ({
  id: top,
  pieceId: dresser,
  name: "Top",
  squareDecimetres: 60,
  substrate: "bare",
  isPaleWanted: false,
  bleedRisk: "no",
  ...row,
});

export const aPair = (row: Partial<Row<"pair">> = {}): Row<"pair"> => ({
  id: id(104),
  pieceId: dresser,
  surfaceA: top,
  surfaceB: id(105),
  sort: "assembled",
  isApart: true,
  spacer: "none",
  changedAt: monday8 - dayMs,
  ...row,
});

export const aProduct = (row: Partial<Row<"product">> = {}): Row<"product"> => ({
  id: paint,
  name: "Sage wall-and-wood paint",
  family: "water-borne-paint",
  ...row,
});

/** Made-up figures in the order that every sheet has. */
export const aSheet = (row: Partial<Row<"sheet">> = {}): Row<"sheet"> => ({
  id: paintSheet,
  productId: paint,
  version: 1,
  origin: "generic",
  mechanism: "water-borne",
  referenceCelsius: 21,
  referenceHumidityPercent: 50,
  minimumCelsius: 10,
  maximumCelsius: 32,
  humidityLimitPercent: 70,
  dewSpreadCelsius: 3,
  setToTouch: { min: 30 },
  tackFree: { min: 60 },
  recoatOpens: { min: 240 },
  handle: { min: 1440 },
  lightUse: { min: 4320 },
  pressTogether: { min: 10_080 },
  stackWith: [],
  wrap: [{ wrap: "plastic", time: "never" }],
  fullCure: { min: 30_240 },
  scuffAlways: false,
  isOilBearing: "no",
  over: [],
  ...row,
});

export const aCoat = (row: Partial<Row<"coat">> & { id: string }): Row<"coat"> => ({
  pieceId: dresser,
  surfaceId: top,
  position: 1,
  sheetId: paintSheet,
  state: "planned",
  ...row,
});

/** A coat that went on an hour before the week began, in ten minutes, by the owner. */
export const aWetCoat = (row: Partial<Row<"coat">> & { id: string }): Row<"coat"> =>
  aCoat({
    state: "applied",
    applied: {
      startedAt: monday8 - hourMs - 600_000,
      endedAt: monday8 - hourMs,
      by: [fern],
      roomId: loft,
      scuffedBefore: false,
    },
    ...row,
  });

export const aTask = (row: Partial<Row<"task">> & { id: string }): Row<"task"> => ({
  pieceId: dresser,
  title: "Scrape the feet",
  sort: "prep",
  methods: [],
  surfaceIds: [],
  needsSkills: [],
  needsMembers: 1,
  after: [],
  state: "open",
  ...row,
});

export const aClaim = (row: Partial<Row<"claim">> & { id: string; taskId: string }): Row<"claim"> => ({
  pieceId: dresser,
  memberIds: [fern],
  claimedAt: monday8 - dayMs,
  claimedSeq: 10,
  lastSignAt: monday8 - dayMs,
  ...row,
});

/** A timer that has run for an hour. */
export const anEntry = (row: Partial<Row<"entry">> & { id: string }): Row<"entry"> => ({
  memberId: fern,
  startedAt: monday8 - hourMs,
  restMin: 0,
  workKind: "bench",
  subjects: [{ pieceId: dresser, stage: "finish" }],
  splitRule: "one",
  source: "timer",
  versions: [],
  ...row,
});

export const aReading = (row: Partial<Row<"reading">> & { id: string }): Row<"reading"> => ({
  roomId: loft,
  at: monday8 - hourMs,
  airCelsius: 19.5,
  humidityPercent: 52,
  source: "hand",
  ...row,
});

/** The loft's own sensor, every hour from one instant to another, both included: at the sheet's 21 °C unless told otherwise. */
export const readEveryHour = (
  fromAt: InstantMs,
  untilAt: InstantMs,
  celsiusAt: (at: InstantMs) => number = () => 21,
  row: Partial<Row<"reading">> = {},
): Row<"reading">[] =>
  Array.from({ length: Math.floor((untilAt - fromAt) / hourMs) + 1 }, (_, hour) => {
    const at = fromAt + hour * hourMs;
    return aReading({ id: id(0x1_0000 + hour), at, airCelsius: celsiusAt(at), humidityPercent: 50, ...row });
  });

export const aCan = (row: Partial<Row<"can">> = {}): Row<"can"> => ({
  id: id(201),
  productId: paint,
  label: "S-1",
  filledMillilitres: 1000,
  isLabelled: true,
  ...row,
});

/** The dresser with its bare top in the loft, and the paint that is meant for it. */
export const shopWithDresser = (rows: Rows = {}) =>
  shopWith({
    piece: [aPiece()],
    surface: [aSurface()],
    product: [aProduct()],
    sheet: [aSheet()],
    roomStay: [aStay()],
    ...rows,
  });
