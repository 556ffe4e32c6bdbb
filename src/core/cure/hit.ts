/**
 * What was hit? Every film, joint and washed surface that stood in a room while its air was out of the ordinary, with the
 * date that it would have had if those hours had been as the room usually is, and the date that it has now. What the hours
 * cost is the difference; nothing else is blamed on them.
 */
import type { RoomAir } from "../climate/history";
import type { PromiseMade } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";
import { facePart } from "./face";
import { gate, recoatFilmGate } from "./gate";
import type { FacePart } from "./gate-answer";
import { usualInstead } from "./hit-air";
import { type JointAnswer, jointAnswer, jointRooms, standingJoints } from "./joint";
import type { Milestone } from "./milestone";
import { earliestHonest } from "./next-gate";
import { filmOn, type Picture, staysKnownAt } from "./picture";
import { woodPart } from "./washed-wood";

export type HitMilestone = Milestone | "clamp-off" | "full-strength" | "wood-dry";

/** Something that comes later now. */
export type Delay = {
  milestone: HitMilestone;
  /** The sheet of the coat that it waits for, where it waits for one. */
  nextSheetId?: string;
  wasAt: InstantMs;
  /** Nothing where nobody can say any more. */
  nowAt?: InstantMs;
  lostMin: number;
};

type About = { pieceId: string; delays: Delay[] };
export type FilmHit = About & { of: "film"; surfaceId: string };
export type PairHit = About & { of: "pair"; pairId: string };
export type WoodHit = About & { of: "wood"; surfaceId: string };
export type JointHit = About & {
  of: "joint";
  jointId: string;
  answer: JointAnswer;
  /** These hours left a doubt: pull it, or look at its line. */
  isToLookAt: boolean;
};
export type Hit = FilmHit | PairHit | WoodHit | JointHit;

/** A promise that held if the hours had been as usual, and does not hold now. */
export type BrokenPromise = { promise: PromiseMade; wasAt?: InstantMs; nowAt?: InstantMs };

export type HitAsked = {
  pictures: readonly Picture[];
  /** Live promises about those pieces. */
  promises: readonly PromiseMade[];
  roomId: string;
  fromAt: InstantMs;
  toAt: InstantMs;
  /** When it is asked: dates are as they are known then. */
  at: InstantMs;
};

export type WhatWasHit = {
  /** Joints that the cold may have spoilt, or of which nobody knows: pull them, look at them. */
  jointsToLookAt: JointHit[];
  /** Later now than they would have been, what lost most first. */
  later: Hit[];
  /** Stood there too, and lost nothing. */
  spared: Hit[];
  promises: BrokenPromise[];
};

/** When a gate opened or will; nothing where that cannot be said. */
const opensAt = ({ state, sinceAt, safeAt }: Pick<FacePart, "state" | "sinceAt" | "safeAt">) =>
  state === "open" ? sinceAt : safeAt;

type Opening = { milestone: HitMilestone; nextSheetId?: string; wasAt?: InstantMs; nowAt?: InstantMs };

/** Rounding decides nothing: less than a minute is nothing lost. */
const delaysOf = (openings: readonly Opening[], fromAt: InstantMs): Delay[] =>
  openings
    .flatMap(({ wasAt, nowAt, ...about }): Delay[] => {
      // what was reached before the span began could not be hit by it
      if (wasAt === undefined || wasAt <= fromAt) return [];
      const lostMin = nowAt === undefined ? Number.POSITIVE_INFINITY : (nowAt - wasAt) / minuteMs;
      return lostMin < 1 ? [] : [{ ...about, wasAt, ...(nowAt !== undefined && { nowAt }), lostMin }];
    })
    .sort((one, other) => one.wasAt - other.wasAt);

/** The same piece twice: as it is, and as it would be. */
type Twice = { now: Picture; usual: Picture; fromAt: InstantMs; toAt: InstantMs; at: InstantMs };

const ladder: readonly Milestone[] = ["set-to-touch", "tack-free", "handle", "light-use", "full-cure"];

const filmOpenings = ({ now, usual, at }: Twice, surfaceId: string): Opening[] => {
  const both = (ask: (picture: Picture) => Pick<FacePart, "state" | "sinceAt" | "safeAt">) => ({
    wasAt: opensAt(ask(usual)),
    nowAt: opensAt(ask(now)),
  });
  const next = now.coats
    .filter((coat) => coat.surfaceId === surfaceId && coat.state === "planned")
    .sort((one, other) => one.position - other.position)[0];
  const recoat = next && {
    milestone: "recoat-opens" as const,
    nextSheetId: next.sheetId,
    ...both((picture) =>
      recoatFilmGate(picture, { action: "recoat", surfaceId, sheetId: next.sheetId, scuffedBefore: true }, at),
    ),
  };
  return [
    ...(recoat ? [recoat] : []),
    ...ladder.map((milestone) => ({
      milestone,
      ...both((picture) => facePart(picture, { surfaceId, demand: { milestone } }, at, false)),
    })),
  ];
};

const surfaceHits = (twice: Twice): Hit[] => {
  const { now, usual, fromAt, toAt, at } = twice;
  const pieceId = now.piece.id;
  const surfaces = now.surfaces.filter((surface) => surface.pieceId === pieceId);
  return surfaces.flatMap(({ id: surfaceId }): Hit[] => {
    const isCoated = filmOn(now, surfaceId, at).some((coat) => coat.applied.endedAt < toAt);
    if (isCoated) return [{ of: "film", pieceId, surfaceId, delays: delaysOf(filmOpenings(twice, surfaceId), fromAt) }];
    const [is, was] = [woodPart(now, surfaceId, at), woodPart(usual, surfaceId, at)];
    if (!is || !was) return [];
    const opening = { milestone: "wood-dry" as const, wasAt: opensAt(was), nowAt: opensAt(is) };
    return [{ of: "wood", pieceId, surfaceId, delays: delaysOf([opening], fromAt) }];
  });
};

const pairHits = ({ now, usual, fromAt, toAt, at }: Twice): Hit[] =>
  now.pairs
    .filter((pair) =>
      [pair.surfaceA, pair.surfaceB].some((id) => filmOn(now, id, at).some((coat) => coat.applied.endedAt < toAt)),
    )
    .map((pair): PairHit => {
      const asked = { action: "press-together", pairId: pair.id } as const;
      const opening = {
        milestone: "press-together" as const,
        wasAt: opensAt(gate(usual, asked, at)),
        nowAt: opensAt(gate(now, asked, at)),
      };
      return { of: "pair", pieceId: now.piece.id, pairId: pair.id, delays: delaysOf([opening], fromAt) };
    });

const overlaps = (
  stay: { fromAt: InstantMs; toAt: InstantMs },
  { fromAt, toAt }: { fromAt: InstantMs; toAt: InstantMs },
) => stay.fromAt < toAt && stay.toAt > fromAt;

const jointHits = (twice: Twice, roomId: string): JointHit[] => {
  const { now, usual, fromAt, at } = twice;
  return standingJoints(now, at)
    .filter((joint) => jointRooms(now, joint, at).some((stay) => stay.roomId === roomId && overlaps(stay, twice)))
    .map((joint): JointHit => {
      const [is, was] = [jointAnswer(now, joint, at), jointAnswer(usual, joint, at)];
      const openings = [
        { milestone: "clamp-off" as const, wasAt: was.clampOff.safeAt, nowAt: is.clampOff.safeAt },
        { milestone: "full-strength" as const, wasAt: was.fullStrength.safeAt, nowAt: is.fullStrength.safeAt },
      ];
      return {
        of: "joint",
        pieceId: now.piece.id,
        jointId: joint.id,
        answer: is,
        isToLookAt: (is.isSuspect && !was.isSuspect) || (is.isUncertain && !was.isUncertain),
        delays: delaysOf(openings, fromAt),
      };
    });
};

/** A pair or a film can lose days; what lost most comes first, and of equals what is due first. */
const lostMost = ({ delays }: Hit) => Math.max(0, ...delays.map(({ lostMin }) => lostMin));
const firstDue = ({ delays }: Hit) => Math.min(Number.POSITIVE_INFINITY, ...delays.map(({ nowAt }) => nowAt ?? 0));
const byLoss = (one: Hit, other: Hit) => {
  const [lost, lostByOther] = [lostMost(one), lostMost(other)];
  return lost === lostByOther ? firstDue(one) - firstDue(other) : lostByOther - lost;
};

const brokenPromises = ({ now, usual, at }: Twice, promises: readonly PromiseMade[]): BrokenPromise[] =>
  promises
    .filter((promise) => promise.pieceId === now.piece.id && promise.state === "made")
    .flatMap((promise) => {
      const [was, is] = [earliestHonest(usual, promise.sort, at), earliestHonest(now, promise.sort, at)];
      const holds = (honest: typeof was) => honest.safeAt !== undefined && honest.safeAt <= promise.dueAt;
      return holds(was) && !holds(is)
        ? [
            {
              promise,
              ...(was.safeAt !== undefined && { wasAt: was.safeAt }),
              ...(is.safeAt !== undefined && { nowAt: is.safeAt }),
            },
          ]
        : [];
    });

/**
 * Judged with what is known at `at`. The span is taken as it is given: hours in it that were as usual cost nothing.
 *
 * @returns all empty for a room in which nothing stood, or that is not among the rooms of these pieces
 */
export const whatWasHit = ({ pictures, promises, roomId, fromAt, toAt, at }: HitAsked): WhatWasHit => {
  const span = { fromAt, toAt: Math.min(toAt, at) };
  const usualByAir = new Map<RoomAir, RoomAir>();
  const found = pictures.flatMap((now) => {
    const [room, air] = [now.roomById.get(roomId), now.airByRoomId.get(roomId)];
    const stood = staysKnownAt(now, now.piece.id, at).some((stay) => stay.roomId === roomId && overlaps(stay, span));
    const isGluedThere = now.joints.some((joint) => joint.roomId === roomId);
    if (!room || !air || (!stood && !isGluedThere) || span.fromAt >= span.toAt) return [];
    // pieces of one shop share the history of a room
    const asUsual = usualByAir.get(air) ?? usualInstead(air, room, span.fromAt, span.toAt);
    usualByAir.set(air, asUsual);
    const usual = { ...now, airByRoomId: new Map([...now.airByRoomId, [roomId, asUsual]]) };
    const twice = { now, usual, ...span, at };
    return [
      {
        hits: [...(stood ? [...surfaceHits(twice), ...pairHits(twice)] : []), ...jointHits(twice, roomId)],
        promises: brokenPromises(twice, promises),
      },
    ];
  });
  const hits = found.flatMap((piece) => piece.hits).sort(byLoss);
  const isToLookAt = (hit: Hit): hit is JointHit => hit.of === "joint" && hit.isToLookAt;
  return {
    jointsToLookAt: hits.filter(isToLookAt),
    later: hits.filter((hit) => hit.delays.length > 0 && !isToLookAt(hit)),
    spared: hits.filter((hit) => hit.delays.length === 0 && !isToLookAt(hit)),
    promises: found.flatMap((piece) => piece.promises),
  };
};
