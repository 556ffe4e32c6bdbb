import type { Delay, Hit, HitMilestone, JointHit, WhatWasHit } from "~/core/cure/hit";
import { chalkOf, roundUpToMinute } from "~/core/cure/joint";
import { roundUpToFiveMin } from "~/core/cure/next-gate";
import type { Facts } from "~/core/shop/facts";
import type { Piece } from "~/core/shop/tables";
import { type InstantMs, minuteMs } from "~/core/units";
import { dueWords, promiseSortWords } from "~/ui/floor/acts/promise-words";
import { celsius, duration, moment } from "~/ui/format";
import { listed } from "~/ui/trade-words";

export type HitLine = {
  /** "Body, press together", "Seat rails, chair 3". */
  subject: string;
  was?: string;
  /** The date now, or what to do instead of waiting. */
  now: string;
  isBarred?: boolean;
  note?: string;
};

export type HitPiece = { pieceId: string; tag: string; name: string; lines: HitLine[]; note?: string };

export type BrokenView = { promiseId: string; pieceId: string; tag: string; words: string };

export type HitView = {
  toLookAt: HitPiece[];
  /** Joints that nobody has been asked to look at yet. */
  unaskedJointIds: string[];
  later: HitPiece[];
  spared: HitPiece[];
  broken: BrokenView[];
  /** All of it in one sentence, read aloud when it changes. */
  said: string;
};

type Shown = { facts: Facts; now: InstantMs; zone: string };

const milestoneWords: Record<HitMilestone, string> = {
  "set-to-touch": "touch",
  "tack-free": "tack-free",
  "recoat-opens": "next coat",
  handle: "handle",
  "light-use": "light use",
  "press-together": "press together",
  stack: "stack",
  "snug-wrap": "snug wrap",
  "plastic-wrap": "plastic wrap",
  "full-cure": "full cure",
  "clamp-off": "clamps off",
  "full-strength": "full strength",
  "wood-dry": "wood dry",
};

/** What somebody waits for first, where several things come later. */
const weight: readonly HitMilestone[] = [
  "recoat-opens",
  "press-together",
  "handle",
  "clamp-off",
  "full-strength",
  "wood-dry",
  "light-use",
  "tack-free",
  "set-to-touch",
  "full-cure",
];

const isOfGlue = (milestone: HitMilestone) => milestone === "clamp-off" || milestone === "full-strength";

const shownAt = (milestone: HitMilestone, at: InstantMs, { now, zone }: Shown) =>
  moment(isOfGlue(milestone) ? roundUpToMinute(at) : roundUpToFiveMin(at), now, zone);

const capital = (words: string) => `${words[0]?.toUpperCase() ?? ""}${words.slice(1)}`;

const subjectWords = (hit: Hit, { facts }: Shown): string => {
  const surface = (id: string | undefined) => (id && facts.get("surface", id)?.name.toLowerCase()) || "a face";
  if (hit.of === "joint") return facts.get("joint", hit.jointId)?.name ?? "a joint";
  if (hit.of !== "pair") return surface(hit.surfaceId);
  const pair = facts.get("pair", hit.pairId);
  return `${surface(pair?.surfaceA)} against ${surface(pair?.surfaceB)}`;
};

const delayWords = ({ milestone, nextSheetId }: Delay, { facts }: Shown): string => {
  const sheet = nextSheetId === undefined ? undefined : facts.get("sheet", nextSheetId);
  const product = sheet && facts.get("product", sheet.productId)?.name;
  return product === undefined ? milestoneWords[milestone] : `next coat, ${product}`;
};

const isAhead = (delay: Delay, now: InstantMs) => delay.nowAt === undefined || delay.nowAt > now;

const laterLine = (hit: Hit, shown: Shown): HitLine => {
  const ranked = hit.delays.toSorted((one, other) => weight.indexOf(one.milestone) - weight.indexOf(other.milestone));
  const ahead = ranked.filter((delay) => isAhead(delay, shown.now));
  const [first, ...others] = ahead.length > 0 ? ahead : ranked;
  if (!first) return { subject: capital(subjectWords(hit, shown)), now: "as it was" };
  const also = others
    .filter((delay) => isAhead(delay, shown.now) && delay.nowAt !== undefined)
    .map((delay) => `${delayWords(delay, shown)} ${shownAt(delay.milestone, delay.nowAt as InstantMs, shown)}`);
  const notes = [
    first.nowAt !== undefined && `${duration(Math.round(first.lostMin) * 60)} later.`,
    also.length > 0 && `Also later: ${listed(also.slice(0, 2))}.`,
  ];
  return {
    subject: `${capital(subjectWords(hit, shown))}: ${delayWords(first, shown)}`,
    was: shownAt(first.milestone, first.wasAt, shown),
    now: first.nowAt === undefined ? "no date yet" : shownAt(first.milestone, first.nowAt, shown),
    note: notes.filter(Boolean).join(" "),
  };
};

const isAsked = (facts: Facts, { pieceId, jointId }: JointHit): boolean =>
  facts
    .where("task", "pieceId", pieceId)
    .some((task) => task.jointId === jointId && task.sort === "inspect" && ["open", "held"].includes(task.state));

/** Why somebody must look, and what to look for. */
const lookLine = (hit: JointHit, shown: Shown): HitLine => {
  const { joint, firstDay, isSuspect, fullStrength } = hit.answer;
  const sheet = shown.facts.get("sheet", joint.sheetId);
  const chalk = sheet && chalkOf(sheet);
  const afterGluing = firstDay.lowestAt === undefined ? 0 : (firstDay.lowestAt - joint.gluedAt) / minuteMs;
  const cold = [
    `Below ${chalk === undefined ? "its chalk point" : celsius(chalk)} for ${duration(Math.round(firstDay.belowChalkMin) * 60)}, ${duration(Math.round(afterGluing) * 60)} after gluing`,
    firstDay.lowestCelsius !== undefined && `${celsius(Math.round(firstDay.lowestCelsius * 10) / 10)} at the lowest`,
  ];
  const why = isSuspect
    ? `${cold.filter(Boolean).join(", ")}. Pull it or look for a white line before anybody sits or sands.`
    : `Nobody knows how cold it was for ${duration(Math.round(firstDay.unknownMin) * 60)} of its first day. Look along the line.`;
  const strongAt = hit.delays.find(({ milestone }) => milestone === "full-strength")?.wasAt ?? fullStrength.safeAt;
  return {
    subject: subjectWords(hit, shown),
    ...(strongAt !== undefined && { was: `strong ${shownAt("full-strength", strongAt, shown)}` }),
    now: isSuspect ? "inspect" : "look at it",
    isBarred: isSuspect,
    note: isAsked(shown.facts, hit) ? `${why} Somebody has been asked.` : why,
  };
};

const sparedLine = (hit: Hit, shown: Shown, fromAt: InstantMs): HitLine => {
  const subject = capital(subjectWords(hit, shown));
  if (hit.of !== "joint") return { subject, now: "nothing lost" };
  const { joint, firstDay, isSound } = hit.answer;
  if (isSound) return { subject, now: "nothing lost", note: "A hand has pulled it since: it holds." };
  return firstDay.endsAt <= fromAt
    ? {
        subject,
        now: "nothing lost",
        note: `${duration((fromAt - joint.gluedAt) / 1000)} old then, past its first day.`,
      }
    : { subject, now: "nothing lost" };
};

/** Lines of one piece under its tag, in the order in which the pieces first come. */
const byPiece = <Of extends Hit>(hits: readonly Of[], { facts }: Shown, lineOf: (hit: Of) => HitLine): HitPiece[] => {
  const pieces = new Map<string, HitPiece>();
  for (const hit of hits) {
    const piece = facts.get("piece", hit.pieceId);
    if (!piece) continue;
    const known = pieces.get(piece.id) ?? { pieceId: piece.id, tag: piece.number, name: piece.name, lines: [] };
    known.lines.push(lineOf(hit));
    pieces.set(piece.id, known);
  }
  return [...pieces.values()];
};

/** What was spared needs no line each: only what there is more to say of stands alone. */
const together = (piece: HitPiece): HitPiece => {
  const plain = piece.lines.filter(({ note }) => note === undefined);
  if (plain.length < 2) return piece;
  const [first, ...others] = plain.map(({ subject }) => subject);
  const subject = listed([first ?? "", ...others.map((words) => words.toLowerCase())]);
  return {
    ...piece,
    lines: [{ subject, now: "nothing lost" }, ...piece.lines.filter(({ note }) => note !== undefined)],
  };
};

const promiseNote = (piece: Piece, found: WhatWasHit, { facts, now, zone }: Shown): string | undefined => {
  const broken = new Set(found.promises.map(({ promise }) => promise.id));
  const held = facts
    .where("promise", "pieceId", piece.id)
    .filter((promise) => promise.state === "made" && promise.dueAt > now && !broken.has(promise.id));
  if (held.length === 0) return undefined;
  const words = held.map(
    (promise) => `${promiseSortWords[promise.sort].toLowerCase()} ${dueWords(promise, now, zone)}`,
  );
  return `These hours did not break what was promised: ${listed(words)}.`;
};

const count = (some: number, one: string, many: string) => `${some} ${some === 1 ? one : many}`;

const isSuspect = (hit: Hit): hit is JointHit => hit.of === "joint" && hit.answer.isSuspect;

/** A joint that is suspect is never told as spared, even where the room is that cold on every day. */
const suspectsFirst = (found: WhatWasHit): WhatWasHit => ({
  ...found,
  jointsToLookAt: [...found.jointsToLookAt, ...[...found.later, ...found.spared].filter(isSuspect)],
  later: found.later.filter((hit) => !isSuspect(hit)),
  spared: found.spared.filter((hit) => !isSuspect(hit)),
});

/** What was hit, in the words of the bench. */
export function hitView(what: WhatWasHit, fromAt: InstantMs, shown: Shown): HitView {
  const found = suspectsFirst(what);
  const { facts, now, zone } = shown;
  const later = byPiece(found.later, shown, (hit) => laterLine(hit, shown)).map((piece) => {
    const row = facts.get("piece", piece.pieceId);
    const note = row && promiseNote(row, found, shown);
    return { ...piece, ...(note !== undefined && { note }) };
  });
  const broken = found.promises.flatMap(({ promise, nowAt }): BrokenView[] => {
    const piece = facts.get("piece", promise.pieceId);
    if (!piece) return [];
    const honest =
      nowAt === undefined ? "no honest date now" : `honest date now ${moment(roundUpToFiveMin(nowAt), now, zone)}`;
    const words = `${promiseSortWords[promise.sort]} ${dueWords(promise, now, zone)}: ${honest}`;
    return [{ promiseId: promise.id, pieceId: piece.id, tag: piece.number, words }];
  });
  const said = [
    count(found.jointsToLookAt.length, "joint to look at", "joints to look at"),
    count(found.later.length, "date later", "dates later"),
    broken.length > 0 && count(broken.length, "promise broken", "promises broken"),
  ];
  return {
    toLookAt: byPiece(found.jointsToLookAt, shown, (hit) => lookLine(hit, shown)),
    unaskedJointIds: found.jointsToLookAt.filter((hit) => !isAsked(facts, hit)).map(({ jointId }) => jointId),
    later,
    spared: byPiece(found.spared, shown, (hit) => sparedLine(hit, shown, fromAt)).map(together),
    broken,
    said: `${said.filter(Boolean).join(", ")}.`,
  };
}
