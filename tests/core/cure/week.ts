/**
 * A made-up week in a made-up shop (zone America/New_York, 26 October to 1 November 2026, clocks go back on Sunday at
 * 02:00), as readings of three rooms and invented sheets. The instants that the tests expect were worked out by hand from
 * the sheets' hours, the rooms and 2^((T − 25) / 10).
 */
import { roomAir } from "~/core/climate/history";
import type { Picture } from "~/core/cure/picture";
import type {
  Coat,
  ContactPair,
  HandTest,
  Member,
  Piece,
  Product,
  Reading,
  Room,
  RoomStay,
  Sheet,
  Surface,
} from "~/core/shop/tables";
import { dayMs, type InstantMs, minuteMs } from "~/core/units";

/** `Wed 07:50 EDT` of that week, or of the week around it: a date and a clock time with the offset written out. */
export const at = (text: string): InstantMs => {
  const [day, clock, letters] = text.split(" ");
  const offset = letters === "EST" ? "-05:00" : "-04:00";
  return Date.parse(`2026-${day}T${clock}:00${offset}`);
};

let count = 0;
export const id = () => {
  count += 1;
  return `00000000-0000-7000-8000-${count.toString(16).padStart(12, "0")}`;
};

const room = (name: string, usualCelsius: number, usualHumidityPercent: number, uses: Room["uses"]): Room => ({
  id: id(),
  name,
  uses,
  usualCelsius,
  usualHumidityPercent,
  gapLimitMin: 180,
  racks: [],
  hasOpenFlame: false,
});
export const loft = room("Loft", 18, 50, ["cure"]);
export const sprayRoom = room("Spray room", 19, 48, ["spray"]);
export const outlet = room("Outlet", 20, 50, ["away"]);

export const reading = (of: Room, readAt: InstantMs, airCelsius: number, more: Partial<Reading> = {}): Reading => ({
  id: id(),
  roomId: of.id,
  at: readAt,
  airCelsius,
  humidityPercent: of.usualHumidityPercent,
  source: "logger",
  ...more,
});

/** A reading every ten minutes, and one in the minute before every whole hour, so that a step has its place. */
export const everyTenMinutes = (of: Room, fromAt: InstantMs, toAt: InstantMs, celsiusAt: (at: InstantMs) => number) => {
  const found: Reading[] = [];
  for (let now = fromAt; now <= toAt; now += 10 * minuteMs) {
    found.push(reading(of, now, celsiusAt(now)));
    if (now + 9 * minuteMs <= toAt) found.push(reading(of, now + 9 * minuteMs, celsiusAt(now + 9 * minuteMs)));
  }
  return found;
};

const tripFrom = at("10-28 01:00 EDT");
const tripTo = at("10-28 06:30 EDT");
const warmAgain = at("10-28 09:00 EDT");
/** The loft's heater tripped in the night to Wednesday. */
export const trippedLoft = (now: InstantMs) =>
  now >= tripFrom && now < tripTo ? 8 : now >= tripTo && now < warmAgain ? 14 : 18;
export const steadyLoft = () => 18;
/** 19 °C from 08:00 to 18:00, else 14 °C; the week before Sunday, so UTC−4 throughout. */
export const sprayAir = (now: InstantMs) => {
  const hour = ((((now - at("10-26 00:00 EDT")) % dayMs) + dayMs) % dayMs) / (60 * minuteMs);
  // the reading at 18:00 still says 19 °C: the pieces leave the room at that instant
  return hour >= 8 && hour <= 18 ? 19 : 14;
};

const sheetBase = {
  version: 1,
  origin: "from-can",
  referenceCelsius: 25,
  referenceHumidityPercent: 50,
  maximumCelsius: 32,
  dewSpreadCelsius: 3,
  stackWith: [],
  wrap: [],
  scuffAlways: false,
  isOilBearing: "no",
  over: [],
} as const;
const hours = (count: number) => ({ min: count * 60 });
type Made = { sheet: Sheet; product: Product };
export const made = (
  family: Product["family"],
  sheet: Partial<Sheet> & Pick<Sheet, "mechanism" | "minimumCelsius">,
): Made => {
  const product: Product = { id: id(), name: family, family };
  return {
    product,
    sheet: { ...sheetBase, stackWith: [], wrap: [], over: [], id: id(), productId: product.id, ...sheet },
  };
};

export const w1 = made("water-borne-paint", {
  mechanism: "water-borne",
  minimumCelsius: 10,
  humidityLimitPercent: 70,
  recoatOpens: hours(4),
  handle: hours(24),
  pressTogether: hours(96),
  wrap: [{ wrap: "plastic", time: hours(168) }],
});
export const w2 = made("water-borne-clear", {
  mechanism: "water-borne",
  minimumCelsius: 10,
  humidityLimitPercent: 70,
  recoatOpens: hours(2.5),
  handle: hours(24),
  pressTogether: hours(72),
  over: [{ underFamily: "oil-stain", waitMin: 72 * 60, barrierFamily: "shellac", isNever: false }],
});
export const o1 = made("oil-stain", {
  mechanism: "oxidative",
  minimumCelsius: 10,
  recoatOpens: hours(24),
  isOilBearing: "yes",
});
export const o2 = made("oil-varnish", {
  mechanism: "oxidative",
  minimumCelsius: 13,
  recoatOpens: hours(12),
  handle: hours(36),
  pressTogether: hours(168),
  fullCure: hours(720),
  scuffAlways: true,
  isOilBearing: "yes",
});
export const l1 = made("lacquer", {
  mechanism: "solvent",
  minimumCelsius: 15,
  dewSpreadCelsius: 11.1,
  recoatOpens: hours(0.75),
  handle: hours(4),
  pressTogether: "never",
  stackWith: [{ material: "paper", time: hours(24) }],
  wrap: [
    { wrap: "snug-paper", time: hours(48) },
    { wrap: "plastic", time: "never" },
  ],
});
export const shellacBlocker = made("shellac-blocker", {
  mechanism: "solvent",
  minimumCelsius: 10,
  dewSpreadCelsius: 11.1,
  recoatOpens: hours(1),
});
const all = [w1, w2, o1, o2, l1, shellacBlocker];

export const surface = (name: string, pieceId: string): Surface => ({
  id: id(),
  pieceId,
  name,
  squareDecimetres: 100,
  substrate: "bare",
  isPaleWanted: false,
  bleedRisk: "no",
});

export const coat = (on: Surface, of: Made, endedAt: InstantMs, more: Partial<Coat> = {}): Coat => ({
  id: id(),
  pieceId: on.pieceId,
  surfaceId: on.id,
  position: 1,
  sheetId: of.sheet.id,
  state: "applied",
  applied: { startedAt: endedAt, endedAt, by: [finisher.id], roomId: sprayRoom.id, scuffedBefore: false },
  ...more,
});

const member = (name: string, role: "owner" | "partner" | "helper"): Member => ({
  id: id(),
  name,
  markLetter: name[0] as string,
  markOutline: "disc",
  roleSpans: [{ role, fromAt: at("01-01 00:00 EST") }],
  skills: [],
  seesOffice: false,
});
export const finisher = member("F", "owner");
export const repairer = member("R", "partner");
export const helper = member("H", "helper");

export const handTest = (of: Partial<HandTest> & Pick<HandTest, "subject" | "kind" | "at" | "result">): HandTest => ({
  id: id(),
  pieceId: "",
  by: finisher.id,
  ...of,
});

export const stay = (pieceId: string, of: Room, fromAt: InstantMs, toAt?: InstantMs): RoomStay => ({
  id: id(),
  pieceId,
  roomId: of.id,
  fromAt,
  ...(toAt !== undefined && { toAt }),
  how: "bearers",
});

export const pair = (of: [Surface, Surface], more: Partial<ContactPair> = {}): ContactPair => ({
  id: id(),
  pieceId: of[0].pieceId,
  surfaceA: of[0].id,
  surfaceB: of[1].id,
  sort: "assembled",
  isApart: true,
  spacer: "none",
  changedAt: at("10-01 08:00 EDT"),
  ...more,
});

export const piece = (): Piece => ({
  id: id(),
  number: "K-1",
  boardId: id(),
  name: "dresser",
  kind: "dresser",
  partCount: 1,
  stage: "cure",
  stageSinceAt: at("10-20 08:00 EDT"),
  roomId: loft.id,
  acquiredOn: "2026-10-01",
  isPainted: "no",
});

export const weekFrom = at("10-18 00:00 EDT");

/** A picture from what a test cares about; the rooms are read every ten minutes from a week before up to `readTo`. */
export const pictureOf = (
  of: Partial<Picture> & Pick<Picture, "piece" | "surfaces" | "coats" | "stays">,
  readings: readonly Reading[],
): Picture => ({
  shop: { zone: "America/New_York", helperTestOpens: false, leadBanYear: 1978 },
  pairs: [],
  joints: [],
  tests: [],
  confirmations: [],
  words: [],
  members: [finisher, repairer, helper],
  sheetById: new Map(all.map(({ sheet }) => [sheet.id, sheet])),
  productById: new Map(all.map(({ product }) => [product.id, product])),
  canById: new Map(),
  mixById: new Map(),
  roomById: new Map([loft, sprayRoom, outlet].map((found) => [found.id, found])),
  airByRoomId: new Map([loft, sprayRoom, outlet].map((found) => [found.id, roomAir(readings, found)])),
  ...of,
});

export const weekReadings = (toAt: InstantMs, loftCelsius: (at: InstantMs) => number) => [
  ...everyTenMinutes(loft, weekFrom, toAt, loftCelsius),
  ...everyTenMinutes(sprayRoom, weekFrom, toAt, sprayAir),
];

/** The instant as the shop's wall clock shows it, rounded up to five minutes as films are. */
export const wallClock = (instant: InstantMs | undefined) => {
  if (instant === undefined) return "no date";
  const rounded = Math.ceil(instant / (5 * minuteMs)) * 5 * minuteMs;
  return new Intl.DateTimeFormat("en-GB", {
    timeZone: "America/New_York",
    weekday: "short",
    day: "numeric",
    hour: "2-digit",
    minute: "2-digit",
    timeZoneName: "short",
  })
    .format(rounded)
    .replace("GMT-4", "EDT")
    .replace("GMT-5", "EST");
};
