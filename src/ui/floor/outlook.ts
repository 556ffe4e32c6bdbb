import { recoatFilmGate } from "~/core/cure/gate";
import { type AskedGate, nextGate, openByWord, roundUpToFiveMin } from "~/core/cure/next-gate";
import { filmOn, type Picture } from "~/core/cure/picture";
import type { Facts } from "~/core/shop/facts";
import type { Claim, Member, Piece, Room, Shop, Task, TimeEntry } from "~/core/shop/tables";
import { hasLapsed } from "~/core/tasks/claim";
import { type InstantMs, minuteMs } from "~/core/units";
import { type PromiseStanding, promiseStanding } from "./acts/promise-words";
import { type FilmState, filmState } from "./film-state";
import { type Ground, groundOf, isSameGround } from "./outlook-ground";
import { pieceStuck, type StuckView } from "./piece-stuck";

export type WipeDue = { coatId: string; surfaceId: string; fromAt: InstantMs; latestAt: InstantMs };

/** Everything that the screens say about one piece at an instant, before it is put into words. */
export type Outlook = {
  at: InstantMs;
  piece: Piece;
  members: readonly Member[];
  /** Where it stands; nothing when this device does not know the room. */
  room: Room | undefined;
  /** Nothing when this device does not carry enough of the air to say. */
  picture?: Picture;
  state?: FilmState;
  next?: AskedGate;
  /** Next coats whose film below has opened: somebody may coat. */
  recoatNow: AskedGate[];
  /** Open for a while because somebody gave their word. */
  byWord: AskedGate[];
  wipe?: WipeDue;
  stuck?: StuckView;
  promise?: PromiseStanding;
  /** Work that is not done, as it was added. */
  tasks: Task[];
  claims: Claim[];
  running: TimeEntry[];
};

/** The next coat of each surface on which a film lies. */
const recoatsOf = (picture: Picture, at: InstantMs): AskedGate[] =>
  picture.surfaces.flatMap((surface) => {
    const planned = picture.coats
      .filter((coat) => coat.surfaceId === surface.id && coat.state === "planned")
      .sort((one, other) => one.position - other.position)[0];
    if (!planned || filmOn(picture, surface.id, at).length === 0) return [];
    const asked = { action: "recoat", surfaceId: surface.id, sheetId: planned.sheetId } as const;
    return [{ asked, gate: recoatFilmGate(picture, asked, at) }];
  });

function wipeOf({ coats, sheetById }: Picture): WipeDue | undefined {
  const dues = coats.flatMap((coat): WipeDue[] => {
    const sheet = sheetById.get(coat.sheetId);
    if (coat.state !== "applied" || !coat.applied || sheet?.wipeFromMin === undefined) return [];
    const { endedAt } = coat.applied;
    const latestMin = sheet.wipeLatestMin ?? sheet.wipeFromMin;
    return [
      {
        coatId: coat.id,
        surfaceId: coat.surfaceId,
        fromAt: endedAt + sheet.wipeFromMin * minuteMs,
        latestAt: endedAt + latestMin * minuteMs,
      },
    ];
  });
  return dues.sort((one, other) => one.latestAt - other.latestAt)[0];
}

/** Where the next coat may go on in the same five minutes as the piece may be carried, the coat is what one waits for. */
function nextOf(picture: Picture, recoats: readonly AskedGate[], now: InstantMs): AskedGate | undefined {
  const next = nextGate(picture, now);
  if (next?.asked.action !== "move" || next.gate.safeAt === undefined) return next;
  const shownAt = roundUpToFiveMin(next.gate.safeAt);
  const atOnce = recoats.find(
    ({ gate }) => gate.state !== "open" && gate.safeAt !== undefined && roundUpToFiveMin(gate.safeAt) === shownAt,
  );
  return atOnce ?? next;
}

function outlookOn(ground: Ground, at: InstantMs): Outlook {
  const { piece, shop, members, room, picture, tasks, promises, claims, timers } = ground;
  const recoats = picture ? recoatsOf(picture, at) : [];
  const next = picture && nextOf(picture, recoats, at);
  const [promise] = promises;
  return {
    at,
    piece,
    members,
    room,
    picture,
    state: picture && filmState(picture, at),
    next,
    recoatNow: recoats.filter(({ gate }) => gate.state === "open"),
    byWord: picture ? openByWord(picture, at) : [],
    wipe: picture && wipeOf(picture),
    stuck: picture && pieceStuck({ picture, tasks, next, recoats, at }),
    promise: promise && promiseStanding(promise, picture, at, shop.zone),
    tasks,
    claims: claims.filter((claim) => !hasLapsed(claim, shop, timers, at)),
    running: timers.filter(({ subjects }) => subjects.some(({ pieceId }) => pieceId === piece.id)),
  };
}

export const outlookOf = (facts: Facts, piece: Piece, shop: Shop, at: InstantMs): Outlook =>
  outlookOn(groundOf(facts, piece, shop), at);

const keptByPiece = new WeakMap<Piece, { ground: Ground; outlook: Outlook }>();

/**
 * The outlook for a screen. It is good for the minute in which it was asked, as long as everything that it rests on is the
 * same: a change elsewhere on the floor leaves it the very object that it was, a word or a test on this piece counts at once.
 *
 * @param now from when on the facts hold, or the stroke of the minute, whichever is later
 */
export function outlookHere(facts: Facts, piece: Piece, shop: Shop, now: InstantMs): Outlook {
  const ground = groundOf(facts, piece, shop);
  const kept = keptByPiece.get(piece);
  if (kept && isSameMinute(kept.outlook.at, now) && isSameGround(kept.ground, ground)) return kept.outlook;
  const outlook = outlookOn(ground, now);
  keptByPiece.set(piece, { ground, outlook });
  return outlook;
}

/** A clock that was set back asks again. */
const isSameMinute = (askedAt: InstantMs, now: InstantMs) =>
  askedAt <= now && Math.floor(askedAt / minuteMs) === Math.floor(now / minuteMs);
