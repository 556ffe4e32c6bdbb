/**
 * Every entity of the shop, once. Database rows, shared documents, events and screens carry these shapes.
 * Each row also has `shopId`, `createdBy` and `changedSeq` in the database; they are the ledger's, not the entity's.
 */
import * as z from "zod/mini";
import { text } from "../text";
import { count, type Flavour, instant, quantity, shopDay } from "../units";

/** UUIDs: version 7 made by the device that makes the thing, version 8 for what a rule makes by itself. */
const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[78][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
export const idOf = <Name extends string>() =>
  z.string().check(z.regex(uuid)) as unknown as z.ZodMiniType<Flavour<string, Name>, Flavour<string, Name>>;

export const shopId = idOf<"shop">();
export const memberId = idOf<"member">();
export const boardId = idOf<"board">();
export const roomId = idOf<"room">();
export const pieceId = idOf<"piece">();
export const surfaceId = idOf<"surface">();
export const pairId = idOf<"pair">();
export const productId = idOf<"product">();
export const sheetId = idOf<"sheet">();
export const coatId = idOf<"coat">();
export const taskId = idOf<"task">();
export const claimId = idOf<"claim">();
export const entryId = idOf<"entry">();
export const intentId = idOf<"intent">();

export type ShopId = z.infer<typeof shopId>;
export type MemberId = z.infer<typeof memberId>;
export type PieceId = z.infer<typeof pieceId>;
export type SurfaceId = z.infer<typeof surfaceId>;
export type RoomId = z.infer<typeof roomId>;
export type CoatId = z.infer<typeof coatId>;
export type IntentId = z.infer<typeof intentId>;

export const roles = ["owner", "partner", "helper", "bookkeeper", "outlet"] as const;
export type Role = (typeof roles)[number];

/** In the order in which work walks through them. */
export const stages = ["acquisition", "repair", "prep", "finish", "cure", "listed", "sold"] as const;
export type Stage = (typeof stages)[number];

export const skills = ["spray", "brush", "glue", "veneer", "strip", "drive", "lift"] as const;
/** Outlines of a member's mark: told apart by shape and letter, never by colour. */
export const markOutlines = ["disc", "block", "house", "hexagon", "arch", "cup"] as const;
export const pieceKinds = [
  "dresser",
  "wardrobe",
  "table",
  "chair",
  "desk",
  "chest",
  "bookcase",
  "nightstand",
  "sideboard",
  "mirror",
  "other",
] as const;
export const methods = ["dry-sand", "wet-sand", "heat", "strip", "glue", "wash", "fill", "mask", "clean"] as const;
export type Method = (typeof methods)[number];

/** How a film hardens. The rate law of each is in `cure/rate.ts`. */
export const mechanisms = ["water-borne", "solvent", "oxidative", "reactive", "wax", "glue", "filler"] as const;
export type Mechanism = (typeof mechanisms)[number];

export const wraps = ["loose-paper", "loose-blanket", "snug-paper", "snug-blanket", "foam", "foil", "plastic"] as const;
export type Wrap = (typeof wraps)[number];

export const shopRow = z.object({
  id: shopId,
  name: text(80),
  /** IANA time zone. */
  zone: text(60),
  /** ISO 3166 alpha-2. */
  country: z.string().check(z.regex(/^[A-Z]{2}$/)),
  /** ISO 4217. */
  currency: z.string().check(z.regex(/^[A-Z]{3}$/)),
  /** ISO 8601 weekday, 1 Monday to 7 Sunday. */
  weekStartsOn: count(1, 7),
  leaseMin: count(60, 43_200),
  leaseAskMin: count(0, 43_200),
  /** May a helper's passed test open a gate before a partner confirms it? */
  helperTestOpens: z.boolean(),
  partnersSeeHours: z.boolean(),
  tabletRecheckMin: count(1, 1440),
  /** Paint before this year may hold lead. */
  leadBanYear: count(1900, 2100),
});

export const memberRow = z.object({
  id: memberId,
  name: text(60),
  markLetter: text(2),
  markOutline: z.enum(markOutlines),
  roleSpans: z.array(z.object({ role: z.enum(roles), fromAt: instant, toAt: z.optional(instant) })),
  skills: z.array(z.enum(skills)),
  seesOffice: z.boolean(),
});

export const invitationRow = z.object({
  id: idOf<"invitation">(),
  role: z.enum(roles),
  /** The name the owner expects, so that the list of open invitations says whose each is. */
  forName: text(60),
  secretSha256: z.string().check(z.regex(/^[0-9a-f]{64}$/)),
  expiresAt: instant,
  usedBy: z.optional(memberId),
  withdrawnAt: z.optional(instant),
});

export const boardRow = z.object({ id: boardId, name: text(60), closedOn: z.optional(shopDay) });

export const roomUses = ["spray", "cure", "bench", "store", "away"] as const;
export const roomRow = z.object({
  id: roomId,
  name: text(40),
  uses: z.array(z.enum(roomUses)).check(z.minLength(1)),
  usualCelsius: quantity("airCelsius"),
  usualHumidityPercent: quantity("humidityPercent"),
  gapLimitMin: quantity("gapLimitMin"),
  racks: z.array(
    z.object({ rackId: idOf<"rack">(), name: text(40), squareDecimetres: quantity("rackSquareDecimetres") }),
  ),
  hasOpenFlame: z.boolean(),
  closedAt: z.optional(instant),
});

export const readingSources = ["hand", "logger", "import"] as const;
export const readingRow = z.object({
  id: idOf<"reading">(),
  roomId,
  at: instant,
  airCelsius: quantity("airCelsius"),
  humidityPercent: quantity("humidityPercent"),
  surfaceCelsius: z.optional(quantity("surfaceCelsius")),
  /** A minimum-maximum thermometer: lowest air and highest humidity since then. */
  spanFromAt: z.optional(instant),
  source: z.enum(readingSources),
  importId: z.optional(intentId),
  retractedAt: z.optional(instant),
  retractedWhy: z.optional(text(300)),
});

export const pieceRow = z.object({
  id: pieceId,
  number: text(12),
  boardId,
  name: text(120),
  kind: z.enum(pieceKinds),
  partCount: quantity("partCount"),
  widthMillimetres: z.optional(quantity("lengthMillimetres")),
  depthMillimetres: z.optional(quantity("lengthMillimetres")),
  heightMillimetres: z.optional(quantity("lengthMillimetres")),
  wood: z.optional(text(60)),
  stage: z.enum(stages),
  stageSinceAt: instant,
  roomId,
  rackId: z.optional(idOf<"rack">()),
  acquiredOn: shopDay,
  isPainted: z.enum(["yes", "no", "unknown"]),
  madeYear: z.optional(quantity("madeYear")),
  treatAsLead: z.optional(z.object({ by: memberId, at: instant, why: text(300) })),
  estimateMin: z.optional(quantity("durationMin")),
  archivedAt: z.optional(instant),
});

export const substrates = ["bare", "old-finish", "veneer", "painted", "metal", "ornament"] as const;
export const surfaceRow = z.object({
  id: surfaceId,
  pieceId,
  name: text(40),
  squareDecimetres: quantity("squareDecimetres"),
  wood: z.optional(text(60)),
  substrate: z.enum(substrates),
  veneerMicrometres: z.optional(quantity("veneerMicrometres")),
  isPaleWanted: z.boolean(),
  bleedRisk: z.enum(["yes", "no", "unknown"]),
});

export const spacers = ["none", "felt", "paper", "foam"] as const;
export const pairRow = z.object({
  id: pairId,
  pieceId,
  surfaceA: surfaceId,
  surfaceB: surfaceId,
  sort: z.enum(["assembled", "leaf", "stacked"]),
  isApart: z.boolean(),
  spacer: z.enum(spacers),
  changedAt: instant,
});

export const promiseSorts = ["photos", "outlet", "collection", "delivery", "market"] as const;
export const promiseRow = z.object({
  id: idOf<"promise">(),
  pieceId,
  sort: z.enum(promiseSorts),
  /** When it is due; a promise on a day is due at the end of that day in the shop's zone. */
  dueAt: instant,
  isWholeDay: z.boolean(),
  toWhom: z.enum(["buyer", "outlet", "market", "ourselves"]),
  state: z.enum(["made", "kept", "moved", "dropped"]),
  movedTo: z.optional(idOf<"promise">()),
  why: z.optional(text(300)),
  isKnowinglyEarly: z.boolean(),
});

export const roomStayRow = z.object({
  id: idOf<"room-stay">(),
  pieceId,
  roomId,
  rackId: z.optional(idOf<"rack">()),
  fromAt: instant,
  toAt: z.optional(instant),
  how: z.enum(["bearers", "hands", "arrived"]),
});

/** The answer of a gate, kept with what it let through or was passed over by. */
export const gateEvidence = z.object({
  action: z.string(),
  state: z.enum(["open", "shut", "shut-for-good"]),
  evidence: z.enum(["sheet", "readings", "assumed", "test"]),
  safeCreditMin: z.optional(z.number()),
  neededMin: z.optional(z.number()),
  safeAt: z.optional(instant),
  heldBy: z.optional(z.string()),
  sheetId: z.optional(sheetId),
  readingsThroughAt: z.optional(instant),
});
export type GateEvidence = z.infer<typeof gateEvidence>;

export const stageMoveRow = z.object({
  id: idOf<"stage-move">(),
  pieceId,
  from: z.enum(stages),
  to: z.enum(stages),
  happenedAt: instant,
  by: memberId,
  reason: z.optional(z.string()),
  why: z.optional(text(300)),
  evidence: z.optional(gateEvidence),
});

export const passedOverRow = z.object({
  id: idOf<"passed-over">(),
  pieceId,
  intentId,
  by: memberId,
  at: instant,
  evidence: gateEvidence,
});

export const noticeRow = z.object({
  id: idOf<"notice">(),
  memberId,
  about: z.enum([
    "claim-lost",
    "claim-contested",
    "claim-ended",
    "claim-handed-over",
    "claim-lapsed",
    "number-changed",
    "entry-corrected",
    "stage-moved-meanwhile",
    "test-after-passing",
    "treated-as-lead",
    "task-finished-by-other",
  ]),
  at: instant,
  pieceId: z.optional(pieceId),
  taskId: z.optional(taskId),
  byMemberId: z.optional(memberId),
  /** Whatever else the sentence needs: minutes kept, the new number, the stage. */
  detail: z.optional(z.record(z.string(), z.union([z.string(), z.number()]))),
  seenAt: z.optional(instant),
});

/** Generic types of finish, from the run of data sheets (common practice); a shop's product copies one and edits it. */
export const families = [
  "water-borne-paint",
  "chalk-paint",
  "milk-paint",
  "water-borne-clear",
  "water-borne-blocker",
  "oil-varnish",
  "alkyd-enamel",
  "shellac",
  "shellac-blocker",
  "lacquer",
  "two-component",
  "drying-oil",
  "oil-wax",
  "wax",
  "oil-stain",
  "glue",
  "filler",
  "clay",
  "stripper",
  "thinner",
] as const;
export type Family = (typeof families)[number];

export const productRow = z.object({
  id: productId,
  name: text(80),
  family: z.enum(families),
  colour: z.optional(text(40)),
  retiredAt: z.optional(instant),
});

/** A time on the sheet: what the safe track needs, and optionally a typical shorter one for the likely track alone. */
export const sheetTime = z.object({ min: quantity("durationMin"), typicalMin: z.optional(quantity("durationMin")) });
export type SheetTime = z.infer<typeof sheetTime>;

export const sheetRow = z.object({
  id: sheetId,
  productId,
  version: count(1, 10_000),
  origin: z.enum(["generic", "from-can"]),
  mechanism: z.enum(mechanisms),
  referenceCelsius: quantity("airCelsius"),
  referenceHumidityPercent: quantity("humidityPercent"),
  minimumCelsius: quantity("airCelsius"),
  maximumCelsius: quantity("airCelsius"),
  humidityLimitPercent: z.optional(quantity("humidityPercent")),
  /** How far the surface must be above the dew point. */
  dewSpreadCelsius: quantity("dewSpreadCelsius"),
  setToTouch: z.optional(sheetTime),
  tackFree: z.optional(sheetTime),
  recoatOpens: z.optional(sheetTime),
  recoatClosesMin: z.optional(quantity("durationMin")),
  recoatReopensMin: z.optional(quantity("durationMin")),
  handle: z.optional(sheetTime),
  lightUse: z.optional(sheetTime),
  /** Faces in contact; "never" for films that stay soft to pressure for good. */
  pressTogether: z.optional(z.union([sheetTime, z.literal("never")])),
  stackWith: z.array(z.object({ material: z.enum(["felt", "paper", "foam"]), time: sheetTime })),
  wrap: z.array(z.object({ wrap: z.enum(wraps), time: z.union([sheetTime, z.literal("never")]) })),
  fullCure: z.optional(sheetTime),
  wipeFromMin: z.optional(quantity("durationMin")),
  wipeLatestMin: z.optional(quantity("durationMin")),
  scuffAlways: z.boolean(),
  isOilBearing: z.enum(["yes", "no", "unknown"]),
  volumeSolidsPercent: z.optional(quantity("volumeSolidsPercent")),
  wetFilmMicrometres: z.optional(quantity("wetFilmMicrometres")),
  /** This product over another family: its own minimum, or a barrier instead. */
  over: z.array(
    z.object({
      underFamily: z.enum(families),
      waitMin: z.optional(quantity("durationMin")),
      barrierFamily: z.optional(z.enum(families)),
      isNever: z.boolean(),
    }),
  ),
});

export const coatRow = z.object({
  id: coatId,
  pieceId,
  surfaceId,
  position: quantity("position"),
  sheetId,
  state: z.enum(["planned", "applied", "wiped", "flawed", "mended", "removed", "struck"]),
  plannedWetFilmMicrometres: z.optional(quantity("wetFilmMicrometres")),
  applied: z.optional(
    z.object({
      startedAt: instant,
      endedAt: instant,
      by: z.array(memberId).check(z.minLength(1)),
      roomId,
      wetFilmMicrometres: z.optional(quantity("wetFilmMicrometres")),
      scuffedBefore: z.boolean(),
      evidence: z.optional(gateEvidence),
    }),
  ),
  wiped: z.optional(z.object({ at: instant, by: memberId })),
  flaw: z.optional(
    z.object({ cause: z.string(), seenAt: instant, mendedAt: z.optional(instant), mend: z.optional(text(300)) }),
  ),
  removed: z.optional(z.object({ at: instant, how: z.enum(["sanded", "stripped", "wiped-off"]), why: text(300) })),
});

/** What a hand can ask of a film, and how hard: `cure/observation.ts` says what each speaks for. */
export const testKinds = [
  "fingertip-on-glass",
  "paper-drop",
  "recoat-patch",
  "thumb-twist",
  "fingernail",
  "paper-press",
  "bleed-patch",
  "lead-swab",
  "lead-laboratory",
] as const;
export type TestKind = (typeof testKinds)[number];
export const testRow = z.object({
  id: idOf<"test">(),
  pieceId,
  subject: z.discriminatedUnion("of", [
    z.object({ of: z.literal("surface"), surfaceId }),
    z.object({ of: z.literal("pair"), pairId }),
    z.object({ of: z.literal("paint-layer"), layer: text(40) }),
  ]),
  kind: z.enum(testKinds),
  at: instant,
  by: memberId,
  result: z.enum(["pass", "fail", "unclear", "pending"]),
  note: z.optional(text(300)),
  takenBackAt: z.optional(instant),
});

export const taskSorts = ["repair", "prep", "inspect", "carry", "close-out", "other"] as const;
export const taskRow = z.object({
  id: taskId,
  pieceId: z.optional(pieceId),
  title: text(120),
  sort: z.enum(taskSorts),
  methods: z.array(z.enum(methods)),
  surfaceIds: z.array(surfaceId),
  coatId: z.optional(coatId),
  needsSkills: z.array(z.enum(skills)),
  needsMembers: quantity("needsMembers"),
  after: z.array(taskId),
  waitsMin: z.optional(quantity("durationMin")),
  estimateMin: z.optional(quantity("durationMin")),
  dueAt: z.optional(instant),
  state: z.enum(["open", "held", "finished", "set-aside"]),
  finished: z.optional(
    z.object({ at: instant, by: memberId, leftUndone: z.optional(text(300)), how: z.optional(z.string()) }),
  ),
  setAsideWhy: z.optional(text(300)),
  reworkCause: z.optional(text(120)),
});

export const claimEndings = [
  "released",
  "finished",
  "handed-over",
  "lapsed",
  "ended-by-owner",
  "membership-ended",
] as const;
export const claimRow = z.object({
  id: claimId,
  taskId,
  pieceId: z.optional(pieceId),
  memberIds: z.array(memberId).check(z.minLength(1), z.maxLength(2)),
  claimedAt: instant,
  claimedSeq: z.number(),
  lastSignAt: instant,
  endedAt: z.optional(instant),
  ending: z.optional(z.enum(claimEndings)),
  note: z.optional(text(300)),
});

export const workKinds = [
  "bench",
  "spray",
  "set-up",
  "clean-up",
  "van",
  "buying",
  "photo",
  "selling",
  "overhead",
] as const;
export const splitRules = ["one", "equal", "area", "coats", "typed"] as const;
export const entrySubject = z.object({
  pieceId,
  taskId: z.optional(taskId),
  stage: z.enum(stages),
  weight: z.optional(quantity("weight")),
});
export const entryRow = z.object({
  id: entryId,
  memberId,
  startedAt: instant,
  endedAt: z.optional(instant),
  restMin: quantity("restMin"),
  workKind: z.enum(workKinds),
  subjects: z.array(entrySubject).check(z.maxLength(24)),
  splitRule: z.enum(splitRules),
  sessionId: z.optional(idOf<"session">()),
  source: z.enum(["timer", "typed"]),
  /** Counted only after a word of the owner, and why. */
  needsWord: z.optional(z.enum(["over-sixteen-hours", "after-the-end", "delivered-after-the-end"])),
  note: z.optional(text(300)),
  struckAt: z.optional(instant),
  versions: z.array(
    z.object({
      by: memberId,
      at: instant,
      was: z.record(z.string(), z.unknown()),
      why: z.optional(text(300)),
    }),
  ),
});
