import { recoatFilmGate } from "~/core/cure/gate";
import { type AskedGate, nextGate, openByWord, roundUpToFiveMin } from "~/core/cure/next-gate";
import { filmOn, type Picture } from "~/core/cure/picture";
import type { Facts } from "~/core/shop/facts";
import type { Claim, Piece, Shop, Task, TimeEntry } from "~/core/shop/tables";
import { hasLapsed } from "~/core/tasks/claim";
import { type InstantMs, minuteMs } from "~/core/units";
import { type PromiseStanding, promiseStanding } from "./acts/promise-words";
import { type FilmState, filmState } from "./film-state";
import { pictureHere } from "./picture-here";
import { pieceStuck, type StuckView } from "./piece-stuck";

export type WipeDue = { coatId: string; surfaceId: string; fromAt: InstantMs; latestAt: InstantMs };

/** Everything that the screens say about one piece now, before it is put into words. */
export type Outlook = {
  piece: Piece;
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

const liveClaims = (facts: Facts, pieceId: string, shop: Shop, running: readonly TimeEntry[], now: InstantMs) =>
  facts
    .where("claim", "pieceId", pieceId)
    .filter((claim) => claim.endedAt === undefined && !hasLapsed(claim, shop, running, now));

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

export function outlookOf(facts: Facts, piece: Piece, shop: Shop, now: InstantMs): Outlook {
  const { zone } = shop;
  const timers = facts.running();
  const tasks = facts.where("task", "pieceId", piece.id).filter(({ state }) => state === "open" || state === "held");
  const promises = facts.where("promise", "pieceId", piece.id).filter(({ state }) => state === "made");
  const promise = promises.sort((one, other) => one.dueAt - other.dueAt)[0];
  const picture = pictureHere(facts, piece.id);
  const recoats = picture ? recoatsOf(picture, now) : [];
  const next = picture && nextOf(picture, recoats, now);
  return {
    piece,
    picture,
    state: picture && filmState(picture, now),
    next,
    recoatNow: recoats.filter(({ gate }) => gate.state === "open"),
    byWord: picture ? openByWord(picture, now) : [],
    wipe: picture && wipeOf(picture),
    stuck: picture && pieceStuck({ picture, tasks, next, recoats, at: now }),
    promise: promise && promiseStanding(promise, picture, now, zone),
    tasks,
    claims: liveClaims(facts, piece.id, shop, timers, now),
    running: timers.filter((entry) => entry.subjects.some((subject) => subject.pieceId === piece.id)),
  };
}
