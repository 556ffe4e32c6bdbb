/**
 * When the next coat may go on. The minimum runs on the slow clock of the film below, the window on its fast one; the pair
 * of products has its own rule; and the air must be fit for the product in hand.
 */
import { nextGoodAir } from "../climate/good-air";
import type { RoomAir } from "../climate/history";
import { coatingAir } from "../climate/limits";
import { pairLine } from "../coating/pair-line";
import { isFlammable } from "../safety/ignition";
import type { Sheet } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";
import { bleedParts } from "./bleed-part";
import { deadCoat } from "./dead-can";
import type { FaceDemand, GateAction } from "./demand";
import { ClockPart, withTests } from "./face";
import { type FacePart, type GateNeed, type HeldBy, toldPart } from "./gate-answer";
import { ClockAnswer, CoatAnswer, coatAnswer } from "./milestone";
import { neededTime } from "./needed-time";
import { testVerdict } from "./observation";
import { familyOf, filmOn, type LaidCoat, type Picture, roomIdAt, sheetOf } from "./picture";
import { creditMin, creditReachedAt, creditToleranceMin, type Film, filmOf } from "./progress";
import { woodPart } from "./washed-wood";
import { withWord } from "./word";

export type RecoatAction = Extract<GateAction, { action: "recoat" }>;

const faceOf = ({ coat }: Film): FaceDemand => ({
  surfaceId: coat.surfaceId,
  demand: { milestone: "recoat-opens" },
});

/** One film as a part of the gate. */
const filmPart = (picture: Picture, answer: CoatAnswer) =>
  new ClockPart(picture, new ClockAnswer([answer]), faceOf(answer.film));

/** A part with something more that is needed, named first. */
const withNeed = (part: FacePart, need: GateNeed): FacePart => ({ ...toldPart(part), needs: [need, ...part.needs] });

/** What the pair of products adds: a longer wait, a barrier, a patch, or a plain no. */
const pairParts = (
  picture: Picture,
  film: Film,
  over: Sheet,
  heldBy: HeldBy,
  at: InstantMs,
): { parts: FacePart[]; needsScuff: boolean } => {
  const under = sheetOf(picture, film.coat.sheetId);
  const [underFamily, overFamily] = [familyOf(picture, under), familyOf(picture, over)];
  const { rule, waitMin, barrierFamily } = pairLine(over, underFamily, overFamily);
  const held = { ...heldBy, coatId: film.coat.id };
  if (rule === "Y" || rule === "S") {
    if (waitMin === undefined) return { parts: [], needsScuff: rule === "S" };
  } else if (rule === "N" || (rule === "B" && waitMin === undefined)) {
    const barrier = rule === "B" ? (barrierFamily ?? "shellac") : undefined;
    const need: GateNeed = {
      kind: "not-over-that",
      overFamily,
      underFamily,
      rule,
      ...(barrier !== undefined && { barrierFamily: barrier }),
    };
    const part: FacePart = { state: "shut-for-good", heldBy: held, evidence: "sheet", needs: [need], sheetId: over.id };
    return { parts: [part], needsScuff: false };
  } else if (rule === "T") {
    const { surfaceId } = film.coat;
    if (testVerdict(picture, surfaceId, "recoat-opens", at, undefined).kind === "pass")
      return { parts: [], needsScuff: false };
    const need: GateNeed = { kind: "not-over-that", overFamily, underFamily, rule };
    const part: FacePart = { state: "shut", heldBy: held, evidence: "sheet", needs: [need], sheetId: over.id };
    return { parts: [part], needsScuff: false };
  }
  const cured = neededTime(under, underFamily, { milestone: "full-cure" }, true);
  const neededMin = waitMin ?? (cured === "never" ? 0 : cured.min);
  const part = filmPart(picture, coatAnswer(picture, film, { min: neededMin }));
  const needsScuff = rule === "D" || rule === "S";
  if (part.state === "open") return { parts: [part], needsScuff };
  const need: GateNeed = {
    kind: "not-over-that",
    overFamily,
    underFamily,
    rule: rule === "B" ? "B" : "D",
    waitMin: neededMin,
    ...(barrierFamily !== undefined && { barrierFamily }),
  };
  return { parts: [withNeed(part, need)], needsScuff };
};

/** Open until the window closes; then after scuffing, or, where the film would wrinkle, only once it has reopened. */
const windowPart = (
  picture: Picture,
  film: Film,
  opensMin: number,
  at: InstantMs,
): { part?: FacePart; needsScuff: boolean; needsTestPanel: boolean } => {
  const { recoatClosesMin, recoatReopensMin } = sheetOf(picture, film.coat.sheetId);
  const isClosed = recoatClosesMin !== undefined && creditMin(film, "fast", at) + creditToleranceMin >= recoatClosesMin;
  if (!isClosed) return { needsScuff: false, needsTestPanel: false };
  if (recoatReopensMin === undefined) return { needsScuff: true, needsTestPanel: false };
  const reopenMin = Math.max(recoatReopensMin, opensMin);
  const part = filmPart(picture, new CoatAnswer(film, { min: reopenMin }));
  if (part.state === "open") return { part, needsScuff: true, needsTestPanel: true };
  const need: GateNeed = {
    kind: "window-shut",
    // on a device whose readings begin later the closing is no longer known to the minute: it lies before them
    closedAt: creditReachedAt(film, "fast", recoatClosesMin) ?? film.checkpoint?.at ?? film.laidAt,
    ...(part.safeAt !== undefined && { reopensAt: part.safeAt }),
    needsScuff: true,
    needsTestPanel: true,
  };
  return { part: withNeed(part, need), needsScuff: true, needsTestPanel: true };
};

const wipePart = (film: Film, sheet: Sheet, heldBy: HeldBy): FacePart[] => {
  const { wipeFromMin, wipeLatestMin } = sheet;
  if (wipeFromMin === undefined || film.coat.wiped !== undefined) return [];
  const need: GateNeed = {
    kind: "wipe",
    coatId: film.coat.id,
    wipeFromAt: film.laidAt + wipeFromMin * minuteMs,
    wipeLatestAt: film.laidAt + (wipeLatestMin ?? wipeFromMin) * minuteMs,
  };
  return [
    { state: "shut", heldBy: { ...heldBy, coatId: film.coat.id }, evidence: "sheet", needs: [need], sheetId: sheet.id },
  ];
};

const isUsable = (picture: Picture, air: RoomAir) =>
  !air.isAway && picture.roomById.get(air.roomId)?.closedAt === undefined;

/** Whether the air where the coat goes on is fit for the product now. */
const airParts = (picture: Picture, asked: RecoatAction, at: InstantMs): FacePart[] => {
  const over = sheetOf(picture, asked.sheetId);
  const roomId = asked.roomId ?? roomIdAt(picture, at);
  const air = roomId === undefined ? undefined : picture.airByRoomId.get(roomId);
  if (!air) return [];
  const found = coatingAir(over, air, at);
  if (found.state === "fit") return [];
  const [next] = found.state === "unfit" ? nextGoodAir(over, air, at) : [];
  const need: GateNeed = {
    kind: "air",
    air: found,
    ...(next && { nextPassAt: next.fromAt }),
    otherRoomIds: [...picture.airByRoomId.values()]
      .filter((other) => isUsable(picture, other) && coatingAir(over, other, at).state === "fit")
      .map((other) => other.roomId),
  };
  return [
    { state: "shut", evidence: found.state === "unknown" ? "sheet" : "readings", needs: [need], sheetId: over.id },
  ];
};

/** Solvent is not laid where something burns: no air and no word makes that right. */
const ignitionParts = (picture: Picture, asked: RecoatAction, at: InstantMs): FacePart[] => {
  const over = sheetOf(picture, asked.sheetId);
  const roomId = asked.roomId ?? roomIdAt(picture, at);
  const room = roomId === undefined ? undefined : picture.roomById.get(roomId);
  if (!room?.hasOpenFlame || !isFlammable(familyOf(picture, over), over.solvent)) return [];
  return [{ state: "shut", evidence: "sheet", needs: [{ kind: "ignition", roomId: room.id }], sheetId: over.id }];
};

/** The recoat minimum of the film below: its clock, what hands found about it, and what somebody gave their word for. */
const minimumPart = (picture: Picture, film: Film, at: InstantMs) => {
  const under = sheetOf(picture, film.coat.sheetId);
  const time = neededTime(under, familyOf(picture, under), { milestone: "recoat-opens" }, true);
  const answer = coatAnswer(picture, film, time === "never" ? { min: 0 } : time);
  const face = faceOf(film);
  const tested = withTests(picture, filmPart(picture, answer), face, at);
  return {
    part: withWord(picture, tested, "recoat", face, at),
    opensMin: answer.neededMin,
  };
};

const scuffPart = (surfaceId: string, heldBy: HeldBy, scuffedBefore: boolean | undefined): FacePart => ({
  // asked without an answer, the gate is open and says so; answered with no, it is shut
  state: scuffedBefore === false ? "shut" : "open",
  ...(scuffedBefore === false && { heldBy }),
  evidence: "sheet",
  needs: scuffedBefore === true ? [] : [{ kind: "scuff", surfaceId }],
});

/** A coat over a film that may never harden would only hide it. */
const deadPart = (dead: LaidCoat, heldBy: HeldBy): FacePart => ({
  state: "shut-for-good",
  heldBy: { ...heldBy, coatId: dead.id },
  evidence: "sheet",
  needs: [{ kind: "never", surfaceId: dead.surfaceId, coatId: dead.id, cause: "dead-can" }],
  sheetId: dead.sheetId,
});

/** What the film below says to the next coat, whatever the air. */
export const filmParts = (picture: Picture, asked: RecoatAction, at: InstantMs): FacePart[] => {
  const coats = filmOn(picture, asked.surfaceId, at);
  const top: LaidCoat | undefined = coats.at(-1);
  if (!top) {
    const wood = woodPart(picture, asked.surfaceId, at);
    return wood ? [wood] : [];
  }
  const heldBy: HeldBy = { milestone: "recoat-opens", surfaceId: asked.surfaceId };
  const dead = deadCoat(picture, asked.surfaceId, coats, at);
  if (dead) return [deadPart(dead, heldBy)];
  const film = filmOf(picture, top, at);
  const under = sheetOf(picture, top.sheetId);
  const over = sheetOf(picture, asked.sheetId);
  const minimum = minimumPart(picture, film, at);
  const pair = pairParts(picture, film, over, heldBy, at);
  const window = windowPart(picture, film, minimum.opensMin, at);
  const needsScuff = pair.needsScuff || window.needsScuff || under.scuffAlways;
  const panel: FacePart = { state: "open", evidence: "sheet", needs: [{ kind: "test-panel" }] };
  return [
    minimum.part,
    ...pair.parts,
    ...(window.part ? [window.part] : []),
    ...wipePart(film, under, heldBy),
    ...(needsScuff ? [scuffPart(asked.surfaceId, heldBy, asked.scuffedBefore)] : []),
    ...(window.needsTestPanel && window.part?.state === "open" ? [panel] : []),
  ];
};

/** Everything that the next coat needs: the film below, nothing that bleeds, the air, and no flame near solvent. */
export const recoatParts = (picture: Picture, asked: RecoatAction, at: InstantMs): FacePart[] => [
  ...filmParts(picture, asked, at),
  ...bleedParts(picture, asked, at),
  ...airParts(picture, asked, at),
  ...ignitionParts(picture, asked, at),
];
