/** What would bring an honest date forward: each worked out by asking again as if it were so. */
import type { promiseSorts } from "../shop/entities/pieces";
import type { Family } from "../shop/entities/products";
import { type TestKind, testKinds } from "../shop/entities/tests";
import type { Coat, HandTest, Sheet } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";
import { demandsOf } from "./demand";
import { gate } from "./gate";
import type { Milestone } from "./milestone";
import { earliestHonest, type HonestDate, type Travel } from "./next-gate";
import { testedMilestone } from "./observation";
import { filmOn, type Picture, roomIdAt } from "./picture";
import { plannedCoats } from "./promise-plan";
import { filmParts } from "./recoat";

/** Less than this is not worth carrying a piece for. Choice of this product. */
const worthMin = 60;

type What =
  | { kind: "warmer-room"; roomId: string }
  | { kind: "barrier"; overCoatId: string; sheetId: string }
  | { kind: "hand-test"; testKind: TestKind; milestone: Milestone; surfaceIds: string[] };

/** With it, the date is `safeAt`; `gainedMin` is absent where there is no date without it. */
export type BroughtForward = What & { safeAt: InstantMs; gainedMin?: number };

type Asking = (picture: Picture) => HonestDate;
type Try = { what: What; picture: Picture };

/** The piece carried now, if it may be, into each other room that is read. */
const inOtherRooms = (picture: Picture, at: InstantMs): Try[] => {
  const here = roomIdAt(picture, at);
  if (gate(picture, { action: "move", carried: "bearers" }, at).state !== "open") return [];
  return [...picture.airByRoomId.values()]
    .filter((air) => air.roomId !== here && !air.isAway && air.endsAt !== undefined)
    .filter((air) => picture.roomById.get(air.roomId)?.closedAt === undefined)
    .map(({ roomId }) => ({
      what: { kind: "warmer-room" as const, roomId },
      picture: {
        ...picture,
        stays: [
          ...picture.stays,
          { id: "carried", pieceId: picture.piece.id, roomId, fromAt: at, how: "bearers" as const },
        ],
      },
    }));
};

/** A blocker of shellac is shellac between two coats as well. Source: common practice. */
const standsIn: Partial<Record<Family, readonly Family[]>> = { shellac: ["shellac", "shellac-blocker"] };

/** The newest sheet of every product in use of a type. */
const sheetsOfFamily = (picture: Picture, family: Family): Sheet[] => {
  const newest = new Map<string, Sheet>();
  for (const sheet of picture.sheetById.values()) {
    const product = picture.productById.get(sheet.productId);
    if (!product || product.retiredAt !== undefined) continue;
    if (!(standsIn[family] ?? [family]).includes(product.family)) continue;
    const known = newest.get(product.id);
    if (!known || known.version < sheet.version) newest.set(product.id, sheet);
  }
  return [...newest.values()];
};

/** Each barrier that would do, before every coat that waits for the one below only because the two do not agree. */
const withBarriers = (picture: Picture, at: InstantMs): Try[] => {
  const firsts = new Map<string, Coat>();
  for (const coat of plannedCoats(picture)) if (!firsts.has(coat.surfaceId)) firsts.set(coat.surfaceId, coat);
  const waiting = [...firsts.values()].flatMap((coat) => {
    const { surfaceId, sheetId } = coat;
    const needs = filmParts(picture, { action: "recoat", surfaceId, sheetId }, at).flatMap((part) => part.needs);
    const rule = needs.find((need) => need.kind === "not-over-that");
    return rule?.barrierFamily ? [{ coat, family: rule.barrierFamily }] : [];
  });
  const [first] = waiting;
  if (!first) return [];
  return sheetsOfFamily(picture, first.family).map((sheet) => {
    // on every surface that waits like this: the last of them would hold the date all the same
    const barriers = waiting.map(
      ({ coat }): Coat => ({
        id: `barrier ${coat.id}`,
        pieceId: coat.pieceId,
        surfaceId: coat.surfaceId,
        position: coat.position - 0.5,
        sheetId: sheet.id,
        state: "planned",
      }),
    );
    const what = { kind: "barrier" as const, overCoatId: first.coat.id, sheetId: sheet.id };
    return { what, picture: { ...picture, coats: [...picture.coats, ...barriers] } };
  });
};

const testFor = (milestone: Milestone): TestKind | undefined =>
  testKinds.find((kind) => testedMilestone(kind) === milestone) ??
  // two faces that print on paper would print on each other
  (milestone === "stack" || milestone === "snug-wrap" ? "paper-press" : undefined);

/** The hand test of the milestone that holds the date, passed on every surface that waits for it. */
const withTest = (
  picture: Picture,
  honest: HonestDate,
  asked: Parameters<typeof demandsOf>[1],
  at: InstantMs,
): Try[] => {
  const milestone = honest.heldBy?.milestone;
  const testKind = milestone && testFor(milestone);
  const by = picture.members.find((member) => {
    const role = member.roleSpans.find(
      (span) => span.fromAt <= at && (span.toAt === undefined || at < span.toAt),
    )?.role;
    return role === "owner" || role === "partner";
  });
  if (!milestone || !testKind || !by) return [];
  const waiting =
    milestone === "recoat-opens"
      ? plannedCoats(picture).map((coat) => coat.surfaceId)
      : demandsOf(picture, asked).flatMap((face) => (face.demand.milestone === milestone ? [face.surfaceId] : []));
  const surfaceIds = [...new Set(waiting)].filter((surfaceId) => filmOn(picture, surfaceId, at).length > 0);
  if (surfaceIds.length === 0) return [];
  const tests = surfaceIds.map(
    (surfaceId): HandTest => ({
      id: `passed ${surfaceId}`,
      pieceId: picture.piece.id,
      subject: { of: "surface", surfaceId },
      kind: testKind,
      at,
      by: by.id,
      result: "pass",
    }),
  );
  const what = { kind: "hand-test" as const, testKind, milestone, surfaceIds };
  return [{ what, picture: { ...picture, tests: [...picture.tests, ...tests] } }];
};

/**
 * What would bring the earliest honest date forward by an hour or more, most first: another room that the shop has, a
 * barrier coat where the sheet allows one instead of the wait, a hand test that passes.
 *
 * @param picture with the air of every room that may come into question
 */
export const broughtForward = (
  picture: Picture,
  sort: (typeof promiseSorts)[number],
  at: InstantMs,
  travel?: Travel,
): BroughtForward[] => {
  const ask: Asking = (found) => earliestHonest(found, sort, at, travel);
  const honest = ask(picture);
  if (honest.safeAt !== undefined && honest.safeAt <= at) return [];
  const asked: Parameters<typeof demandsOf>[1] =
    sort === "photos"
      ? { action: "move", carried: "hands" }
      : { action: "hand-over", ...(travel ?? { wrap: "loose-blanket", isStrapped: false }) };
  const tries = [...inOtherRooms(picture, at), ...withBarriers(picture, at), ...withTest(picture, honest, asked, at)];
  const worth = tries.flatMap(({ what, picture: changed }): BroughtForward[] => {
    const { safeAt } = ask(changed);
    if (safeAt === undefined) return [];
    if (honest.safeAt === undefined) return [{ ...what, safeAt }];
    const gainedMin = Math.floor((honest.safeAt - safeAt) / minuteMs);
    return gainedMin >= worthMin ? [{ ...what, safeAt, gainedMin }] : [];
  });
  const best = worth.sort((one, other) => one.safeAt - other.safeAt);
  // of several rooms or barriers the best one is enough
  return best.filter((found) => found === best.find(({ kind }) => kind === found.kind));
};
