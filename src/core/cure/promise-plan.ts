/**
 * Coats that are still planned, each at the earliest time at which it can honestly go on: once the film below has opened
 * by the slow clock, in the next hour that the forecast passes, by day. And what the films then need.
 */
import { dayStartAt, shopDayAt, wallTimeAt } from "../calendar";
import { firstGoodAt } from "../climate/good-air";
import { airKnownAt } from "../climate/history";
import { isFlammable } from "../safety/ignition";
import type { Coat, Sheet } from "../shop/tables";
import { dayMs, type InstantMs, minuteMs } from "../units";
import type { FaceDemand } from "./demand";
import { ClockPart, facePart } from "./face";
import { CombinedGate, type FacePart, type GateNeed, type HeldBy, toldPart } from "./gate-answer";
import { ClockAnswer, coatAnswer } from "./milestone";
import { neededTime } from "./needed-time";
import { familyOf, filmOn, type LaidCoat, type Picture, roomIdAt, sheetOf } from "./picture";
import { creditReachedAt, filmOf } from "./progress";
import { filmParts } from "./recoat";

/** From mixing to the gun being clean: what a coat on all of its surface takes. Choice of this product. */
export const handlingMin = 60;
/** Nobody coats at night. Until the shop keeps a calendar, a day is taken to be this. Choice of this product. */
const workday = { opens: "08:00", closes: "18:00" } as const;
/** As far as anybody may store a forecast; a coat that finds no air within it has no date. */
const searchDays = 10;

/** Where and when a planned coat can go on at the earliest. */
export type PlacedCoat = { coatId: string; roomId: string; startsAt: InstantMs };

/** Why a planned coat has no date: the film below never opens for it, no air passes, or nobody reads the room. */
export type Unplaced = { coatId: string; why: "film" | "air" | "room-unread"; needs: GateNeed[]; heldBy?: HeldBy };

export type Plan = {
  placed: PlacedCoat[];
  unplaced?: Unplaced;
  /** The picture as it will be, with every coat laid that could be placed. */
  picture: Picture;
  laid: readonly LaidCoat[];
};

export const plannedCoats = (picture: Picture): Coat[] =>
  picture.coats
    .filter((coat) => coat.pieceId === picture.piece.id && coat.state === "planned")
    .sort((one, other) => one.position - other.position);

/** The rooms in which a coat may be laid: where the piece stands, then those for spraying. */
const roomsFor = (picture: Picture, sheet: Sheet, at: InstantMs): string[] => {
  const own = roomIdAt(picture, at);
  const sprayed = [...picture.roomById.values()].flatMap((room) =>
    room.uses.includes("spray") && room.closedAt === undefined && room.id !== own ? [room.id] : [],
  );
  const isSafeIn = (roomId: string) =>
    !(picture.roomById.get(roomId)?.hasOpenFlame && isFlammable(familyOf(picture, sheet), sheet.solvent));
  return [...(own === undefined ? [] : [own]), ...sprayed].filter(isSafeIn);
};

const workdayOf = (at: InstantMs, zone: string) => {
  const day = shopDayAt(at, zone);
  const edge = (time: string) => {
    const found = wallTimeAt(day, time, zone);
    return found.ok ? found.value.at : dayStartAt(day, zone);
  };
  return { fromAt: edge(workday.opens), toAt: edge(workday.closes) };
};

/** The first working hour from an instant on in which a room passes for a product. */
const passesAt = (
  picture: Picture,
  roomId: string,
  sheet: Sheet,
  notBefore: InstantMs,
  askedAt: InstantMs,
): InstantMs | undefined => {
  const whole = picture.airByRoomId.get(roomId);
  if (!whole) return undefined;
  const air = airKnownAt(whole, askedAt);
  for (let day = 0; day <= searchDays; day += 1) {
    const open = workdayOf(notBefore + day * dayMs, picture.shop.zone);
    const between = { fromAt: Math.max(open.fromAt, notBefore), toAt: open.toAt };
    const found = firstGoodAt(sheet, air, askedAt, between, handlingMin);
    if (found !== undefined) return found;
  }
  return undefined;
};

type Placed = { roomId: string; startsAt: InstantMs };

const earliestPlace = (
  picture: Picture,
  sheet: Sheet,
  notBefore: InstantMs,
  askedAt: InstantMs,
): Placed | "air" | "room-unread" => {
  let best: Placed | undefined;
  let isAnyRead = false;
  for (const roomId of roomsFor(picture, sheet, askedAt)) {
    const air = picture.airByRoomId.get(roomId);
    if (air && !air.isAway && (air.endsAt !== undefined || air.forecastHours)) isAnyRead = true;
    const startsAt = passesAt(picture, roomId, sheet, notBefore, askedAt);
    // carrying it into another room must gain something
    if (startsAt !== undefined && (best === undefined || startsAt < best.startsAt)) best = { roomId, startsAt };
  }
  return best ?? (isAnyRead ? "air" : "room-unread");
};

const byHand: readonly GateNeed["kind"][] = ["scuff", "wipe", "test-panel"];

/** When the film below is ready for a coat; a film that is itself only planned is asked about from its start on. */
const opensFor = (picture: Picture, coat: Coat, at: InstantMs) => {
  const asked = { action: "recoat", surfaceId: coat.surfaceId, sheetId: coat.sheetId, scuffedBefore: true } as const;
  const found = new CombinedGate("recoat", filmParts(picture, asked, at), undefined);
  // a hand puts right at once what has no clock of its own
  const isByHand = found.neededMin === undefined && found.needs.every(({ kind }) => byHand.includes(kind));
  const opensAt = found.state === "open" || isByHand ? at : found.safeAt;
  const isShutForGood = found.state === "shut-for-good";
  return { opensAt: isShutForGood ? undefined : opensAt, needs: found.needs, heldBy: found.heldBy };
};

/** In the dead time of a window that closes and opens again, a coat waits for the opening. */
const pastClosedWindow = (picture: Picture, below: LaidCoat | undefined, startsAt: InstantMs, at: InstantMs) => {
  if (!below) return startsAt;
  const { recoatClosesMin, recoatReopensMin } = sheetOf(picture, below.sheetId);
  if (recoatClosesMin === undefined || recoatReopensMin === undefined) return startsAt;
  const film = filmOf(picture, below, at);
  const closesAt = creditReachedAt(film, "fast", recoatClosesMin);
  if (closesAt === undefined || startsAt < closesAt) return startsAt;
  const reopensAt = creditReachedAt(film, "promise", recoatReopensMin);
  return reopensAt === undefined ? undefined : Math.max(startsAt, reopensAt);
};

const laidAs = (coat: Coat, { roomId, startsAt }: Placed, by: string): LaidCoat => ({
  ...coat,
  state: "applied",
  applied: {
    startedAt: startsAt,
    endedAt: startsAt + handlingMin * minuteMs,
    by: [by],
    roomId,
    scuffedBefore: true,
    ...(coat.plannedWetFilmMicrometres !== undefined && { wetFilmMicrometres: coat.plannedWetFilmMicrometres }),
  },
  wiped: { at: startsAt + handlingMin * minuteMs, by },
});

const withLaid = (picture: Picture, laid: LaidCoat): Picture => ({
  ...picture,
  coats: picture.coats.map((coat) => (coat.id === laid.id ? laid : coat)),
});

/**
 * Places every planned coat of a piece. Surfaces do not wait for each other: those that are ready in the same hour are
 * done in one go. The piece is carried back to where it stands after each coat, and hardens there.
 */
export const planOf = (picture: Picture, at: InstantMs): Plan => {
  let ahead = picture;
  const placed: PlacedCoat[] = [];
  const laid: LaidCoat[] = [];
  const by = picture.members[0]?.id ?? "";
  for (const coat of plannedCoats(picture)) {
    const before = laid.findLast((other) => other.surfaceId === coat.surfaceId);
    const askedAt = before ? before.applied.startedAt : at;
    const below = before ?? filmOn(picture, coat.surfaceId, at).at(-1);
    const { opensAt, needs, heldBy } = opensFor(ahead, coat, askedAt);
    const unplaced = (why: Unplaced["why"]): Plan => ({
      placed,
      unplaced: { coatId: coat.id, why, needs, ...(heldBy && { heldBy }) },
      picture: ahead,
      laid,
    });
    if (opensAt === undefined) return unplaced("film");
    const sheet = sheetOf(picture, coat.sheetId);
    const notBefore = Math.max(at, opensAt, before?.applied.endedAt ?? at);
    let place = earliestPlace(picture, sheet, notBefore, at);
    if (typeof place === "string") return unplaced(place);
    const waitsUntil = pastClosedWindow(ahead, below, place.startsAt, askedAt);
    if (waitsUntil === undefined) return unplaced("film");
    if (waitsUntil > place.startsAt) place = earliestPlace(picture, sheet, waitsUntil, at);
    if (typeof place === "string") return unplaced(place);
    const next = laidAs(coat, place, by);
    ahead = withLaid(ahead, next);
    laid.push(next);
    placed.push({ coatId: coat.id, ...place });
  }
  return { placed, picture: ahead, laid };
};

/** What is not known yet of a room at an instant to come is no hindrance: the forecast stands for it. */
const foretold = (part: FacePart): FacePart => ({
  ...toldPart(part),
  needs: part.needs.filter(({ kind }) => kind !== "reading" && kind !== "unknown-span"),
});

/** One face's part in an act once every planned coat lies; a face without any is asked about as it is now. */
export const plannedFaceParts = (picture: Picture, plan: Plan, face: FaceDemand, at: InstantMs): FacePart[] => {
  const added = plan.laid.filter((coat) => coat.surfaceId === face.surfaceId);
  if (added.length === 0) return [facePart(picture, face, at, false)];
  const top = added.at(-1);
  const heldBy: HeldBy = {
    milestone: face.demand.milestone,
    surfaceId: face.surfaceId,
    ...(face.pairId !== undefined && { pairId: face.pairId }),
  };
  return [...filmOn(picture, face.surfaceId, at), ...added].map((coat): FacePart => {
    const sheet = sheetOf(picture, coat.sheetId);
    const time = neededTime(sheet, familyOf(picture, sheet), face.demand, coat === top);
    if (time === "never") {
      const { surfaceId } = face;
      const need: GateNeed = { kind: "never", surfaceId, coatId: coat.id, cause: "soft-under-pressure" };
      const held = { ...heldBy, coatId: coat.id };
      return { state: "shut-for-good", heldBy: held, evidence: "sheet", needs: [need], sheetId: sheet.id };
    }
    const [from, askedAt] = added.includes(coat) ? [plan.picture, coat.applied.startedAt] : [picture, at];
    const answer = coatAnswer(from, filmOf(from, coat, askedAt), time);
    return foretold(new ClockPart(from, new ClockAnswer([answer]), face));
  });
};
