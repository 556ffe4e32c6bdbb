/** A made-up shop large enough to be slow: 500 pieces, 5,000 coats, 8 rooms read every ten minutes for 90 days. */
import { genericSheet } from "~/core/coating/generic-sheets";
import type { GateAction } from "~/core/cure/demand";
import type { Picture } from "~/core/cure/picture";
import type { Mechanism } from "~/core/shop/entities/products";
import type { Coat, ContactPair, Piece, Product, Reading, Room, RoomStay, Sheet, Surface } from "~/core/shop/tables";
import { dayMs, hourMs, minuteMs } from "~/core/units";

export const [pieceCount, coatsPerPiece, roomCount, days] = [500, 10, 8, 90];
const startAt = Date.parse("2026-03-01T00:00:00Z");
const readEveryMs = 10 * minuteMs;
export const readingsPerRoom = (days * dayMs) / readEveryMs;
/** A few minutes after the last reading. */
export const askedAt = startAt + days * dayMs + 5 * minuteMs;

/** The same numbers in every run. Source: the usual linear congruence of C libraries. */
const dice = (seed: number) => {
  let state = seed;
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
};

const idOf = (kind: string, index: number) => `${kind}-${index}`;

const room = (index: number): Room => ({
  id: idOf("room", index),
  name: `Room ${index}`,
  uses: index < 2 ? ["spray"] : ["cure"],
  usualCelsius: 19,
  usualHumidityPercent: 50,
  gapLimitMin: 180,
  racks: [],
  hasOpenFlame: false,
});
export const rooms = Array.from({ length: roomCount }, (_, index) => room(index));

/** Warm days and cool nights, another mean in each room, a flicker in every reading. */
const readingAt = (roomIndex: number, at: number, flicker: () => number): Reading => {
  const day = (2 * Math.PI * (at - startAt)) / dayMs;
  const celsius = 17 + 0.6 * roomIndex - 3 * Math.cos(day) + 0.6 * (flicker() - 0.5);
  const humidity = 50 + 8 * Math.cos(day + roomIndex) + 3 * (flicker() - 0.5);
  return {
    id: `${roomIndex} ${at}`,
    roomId: idOf("room", roomIndex),
    at,
    airCelsius: Math.round(celsius * 10) / 10,
    humidityPercent: Math.round(humidity * 10) / 10,
    source: "logger",
  };
};

export const readingsOfRooms = (): Reading[][] =>
  rooms.map((_, roomIndex) => {
    const flicker = dice(roomIndex + 1);
    return Array.from({ length: readingsPerRoom }, (_, index) =>
      readingAt(roomIndex, startAt + index * readEveryMs, flicker),
    );
  });

/** What comes in after all others. */
export const oneMoreReading = (roomIndex: number): Reading =>
  readingAt(roomIndex, startAt + readingsPerRoom * readEveryMs, dice(99));

const kinds: { family: Product["family"]; mechanism: Mechanism; solvent?: Sheet["solvent"] }[] = [
  { family: "water-borne-paint", mechanism: "water-borne" },
  { family: "water-borne-clear", mechanism: "water-borne" },
  { family: "oil-varnish", mechanism: "oxidative" },
  { family: "lacquer", mechanism: "solvent", solvent: "toluene" },
  { family: "two-component", mechanism: "reactive" },
  { family: "wax", mechanism: "wax", solvent: "ethanol" },
];

/** Thirty sheets, each with a law of its own: six kinds, five references, half of them by the law of their mechanism. */
export const products: { product: Product; sheet: Sheet }[] = kinds.flatMap(({ family, mechanism, solvent }, kind) =>
  [20, 21, 23, 24, 25].map((referenceCelsius, index) => {
    const product: Product = { id: idOf("product", 5 * kind + index), name: family, family };
    const sheet: Sheet = {
      ...(genericSheet(family) as NonNullable<ReturnType<typeof genericSheet>>),
      id: idOf("sheet", 5 * kind + index),
      productId: product.id,
      version: 1,
      mechanism,
      referenceCelsius,
      rateRule: index % 2 === 0 ? "mechanism" : "doubling",
      ...(solvent && { solvent }),
    };
    return { product, sheet };
  }),
);

export type BenchPiece = Omit<Picture, "airByRoomId"> & { roomIds: string[] };

/** A dresser of three surfaces: ten coats over some days, then a loft; laid anywhere in the three months. */
const pieceOf = (index: number, shared: Pick<Picture, "sheetById" | "productById" | "roomById">): BenchPiece => {
  const roll = dice(1000 + index);
  const pieceId = idOf("piece", index);
  const surfaces = ["body", "top", "fronts"].map(
    (name, surface): Surface => ({
      id: `${pieceId} ${surface}`,
      pieceId,
      name,
      squareDecimetres: 80,
      substrate: "bare",
      isPaleWanted: false,
      bleedRisk: "no",
    }),
  );
  const kind = Math.floor(roll() * kinds.length);
  const pick = () => (products[5 * kind + Math.floor(roll() * 5)] as (typeof products)[0]).sheet.id;
  const [primer, finish] = [pick(), pick()];
  const beganAt = startAt + dayMs + Math.floor(roll() * (days - 5)) * dayMs + Math.floor(roll() * 8 * hourMs);
  const perSurface = [4, 3, 3];
  const laid = (surface: Surface, position: number): Coat => {
    const endedAt = beganAt + (position - 1) * dayMs + Math.floor(roll() * 2 * hourMs);
    return {
      id: `${surface.id} ${position}`,
      pieceId,
      surfaceId: surface.id,
      position,
      sheetId: position === 1 ? primer : finish,
      state: "applied",
      applied: { startedAt: endedAt - 20 * minuteMs, endedAt, by: [], roomId: "room-0", scuffedBefore: true },
    };
  };
  const coats = surfaces.flatMap((surface, which) =>
    Array.from({ length: perSurface[which] as number }, (_, position) => laid(surface, position + 1)),
  );
  const planned: Coat = {
    id: `${pieceId} next`,
    pieceId,
    surfaceId: (surfaces[1] as Surface).id,
    position: 5,
    sheetId: finish,
    state: "planned",
  };
  const pair: ContactPair = {
    id: `${pieceId} pair`,
    pieceId,
    surfaceA: (surfaces[0] as Surface).id,
    surfaceB: (surfaces[2] as Surface).id,
    sort: "assembled",
    isApart: true,
    spacer: "none",
    changedAt: beganAt,
  };
  const [sprayRoom, loft] = [idOf("room", index % 2), idOf("room", 2 + (index % (roomCount - 2)))];
  const carriedAt = beganAt + 3 * dayMs + 10 * hourMs;
  const stay = (roomId: string, fromAt: number, toAt?: number): RoomStay => ({
    id: `${pieceId} ${fromAt}`,
    pieceId,
    roomId,
    fromAt,
    ...(toAt !== undefined && { toAt }),
    how: "bearers",
  });
  const piece: Piece = {
    id: pieceId,
    number: `K-${index}`,
    boardId: "board",
    name: "dresser",
    kind: "dresser",
    partCount: 1,
    stage: "cure",
    stageSinceAt: beganAt,
    roomId: loft,
    acquiredOn: "2026-03-01",
    isPainted: "no",
  };
  return {
    ...shared,
    shop: { zone: "America/New_York", helperTestOpens: false, leadBanYear: 1978 },
    piece,
    surfaces,
    pairs: [pair],
    coats: [...coats, planned],
    tests: [],
    stays: [stay(sprayRoom, beganAt - hourMs, carriedAt), stay(loft, carriedAt)],
    members: [],
    joints: [],
    confirmations: [],
    words: [],
    canById: new Map(),
    mixById: new Map(),
    roomIds: [sprayRoom, loft],
  };
};

export const benchPieces = (): BenchPiece[] => {
  const shared = {
    sheetById: new Map(products.map(({ sheet }) => [sheet.id, sheet])),
    productById: new Map(products.map(({ product }) => [product.id, product])),
    roomById: new Map(rooms.map((found) => [found.id, found])),
  };
  return Array.from({ length: pieceCount }, (_, index) => pieceOf(index, shared));
};

/** Everything that a shop asks of a piece. */
export const actionsOf = ({ surfaces, coats }: Pick<Picture, "surfaces" | "coats">): GateAction[] => {
  const next = coats.find((coat) => coat.state === "planned") as Coat;
  return [
    { action: "touch" },
    { action: "move", carried: "bearers" },
    { action: "move", carried: "hands" },
    { action: "recoat", surfaceId: (surfaces[1] as Surface).id, sheetId: next.sheetId, scuffedBefore: true },
    { action: "press-together" },
    { action: "stack", material: "paper" },
    { action: "wrap", wrap: "snug-paper", isStrapped: true },
    { action: "wrap", wrap: "plastic", isStrapped: false },
    { action: "hand-over", wrap: "loose-blanket", isStrapped: false },
    { action: "use", how: "light" },
    { action: "use", how: "full" },
  ];
};
