import type { GateAction } from "~/core/cure/demand";
import { gate, recoatFilmGate } from "~/core/cure/gate";
import type { Gate } from "~/core/cure/gate-answer";
import type { Milestone } from "~/core/cure/needed-time";
import { hasFailedSince } from "~/core/cure/observation";
import type { Picture } from "~/core/cure/picture";
import { wordActions } from "~/core/cure/word";
import { wordHindrance } from "~/core/cure/word-hindrance";
import type { Word } from "~/core/shop/tables";
import { hourMs, type InstantMs } from "~/core/units";
import { gateTimeWords, giverOf, productName } from "~/ui/floor/gate-words";
import { moment } from "~/ui/format";

export type WordChoice = {
  id: string;
  words: string;
  /** What the film's own clock says of it. */
  detail?: string;
  told: Pick<Word, "action" | "subjectId">;
};

const actionWords: Record<(typeof wordActions)[number], string> = {
  touch: "Touch",
  move: "Carry and handle",
  recoat: "Recoat",
  "press-together": "Press together",
  stack: "Stack",
  wrap: "Wrap, not in plastic",
  "hand-over": "Hand over",
};

type Asked = Exclude<GateAction, { action: "recoat" | "sand" }>;

/** How an act is meant where its hour is told: the way that asks most of the film, short of plastic, first. */
const waysOf = (action: Exclude<(typeof wordActions)[number], "recoat">): [Asked, ...Asked[]] => {
  switch (action) {
    case "move":
      return [{ action, carried: "hands" }];
    case "wrap":
    case "hand-over":
      return [
        { action, wrap: "snug-blanket", isStrapped: true },
        { action, wrap: "loose-blanket", isStrapped: false },
      ];
    default:
      return [{ action }];
  }
};

/** The first way that no failed test holds shut: only such a one may be spoken for. */
const spokenFor = (picture: Picture, ways: [Asked, ...Asked[]], now: InstantMs): Gate => {
  const gates = ways.map((way) => gate(picture, way, now));
  const unshut = gates.find(({ needs }) => needs.every(({ kind }) => kind !== "test-says-no"));
  return unshut ?? (gates[0] as Gate);
};

const nextSheetId = (picture: Picture, surfaceId: string) =>
  picture.coats
    .filter((coat) => coat.surfaceId === surfaceId && coat.state === "planned")
    .sort((one, other) => one.position - other.position)[0]?.sheetId;

/** What is shut by the clock alone, so that somebody's word may open it: each act once, coats by surface, pairs by pair. */
export function wordChoices(picture: Picture, now: InstantMs, zone: string): WordChoice[] {
  const mayBeTold = (told: WordChoice["told"]) => wordHindrance(picture, told, now).kind === "may";
  const when = (found: Gate) => (found.state === "open" ? undefined : gateTimeWords(found, now, zone));
  const nameOf = (id: string) => picture.surfaces.find((surface) => surface.id === id)?.name.toLowerCase() ?? "a face";
  return wordActions.flatMap((action): WordChoice[] => {
    if (action === "recoat")
      return picture.surfaces.flatMap(({ id }) => {
        const sheetId = nextSheetId(picture, id);
        const told = { action, subjectId: id };
        if (sheetId === undefined || !mayBeTold(told)) return [];
        const detail = when(recoatFilmGate(picture, { action, surfaceId: id, sheetId }, now));
        return [
          { id: `${action} ${id}`, words: `Recoat ${nameOf(id)}, ${productName(picture, sheetId)}`, detail, told },
        ];
      });
    if (action === "press-together" && picture.pairs.length > 1)
      return picture.pairs.flatMap((pair) => {
        const told = { action, subjectId: pair.id };
        if (!mayBeTold(told)) return [];
        const words = `Press ${nameOf(pair.surfaceA)} against ${nameOf(pair.surfaceB)}`;
        return [
          { id: `${action} ${pair.id}`, words, detail: when(gate(picture, { action, pairId: pair.id }, now)), told },
        ];
      });
    if (!mayBeTold({ action })) return [];
    const detail = when(spokenFor(picture, waysOf(action), now));
    return [{ id: action, words: actionWords[action], detail, told: { action } }];
  });
}

/** How long a word may hold: short ones first, three days at most. */
export const wordHours = [4, 12, 24, 48, 72] as const;

export const untilChoices = (now: InstantMs, zone: string): { id: string; words: string; detail: string }[] =>
  wordHours.map((hours) => ({
    id: String(hours),
    words: `${hours} h`,
    detail: `until ${moment(now + hours * hourMs, now, zone)}`,
  }));

export type WordLine = { word: Word; words: string; detail: string };

const isLive = (word: Word, now: InstantMs) => word.withdrawnAt === undefined && now < word.untilAt;

/** Words that hold now, each with what it opens, whose it is, why, and whether a hand has ended it since. */
export function wordLines(picture: Picture, now: InstantMs, zone: string): WordLine[] {
  return picture.words
    .filter((word) => isLive(word, now))
    .map((word) => ({
      word,
      words: `${aboutWords(picture, word)} by ${giverOf(picture, word)}’s word`,
      detail: [
        `until ${moment(word.untilAt, now, zone)}`,
        word.why,
        hasEnded(picture, word, now) && "ended by a failed test",
      ]
        .filter(Boolean)
        .join(" · "),
    }));
}

function aboutWords(picture: Picture, { action, subjectId }: Word): string {
  const words = action === "sand" || action === "use" ? "Use" : actionWords[action];
  if (subjectId === undefined) return words;
  const name = (id: string | undefined) => picture.surfaces.find((surface) => surface.id === id)?.name.toLowerCase();
  const pair = picture.pairs.find(({ id }) => id === subjectId);
  return `${words}: ${pair ? `${name(pair.surfaceA)} against ${name(pair.surfaceB)}` : name(subjectId)}`;
}

const hardestAsked: Partial<Record<Word["action"], Milestone>> = {
  touch: "set-to-touch",
  move: "handle",
  recoat: "recoat-opens",
};

/** A hand found otherwise after it was given, on what it speaks of: it does not come back when that is answered. */
function hasEnded(picture: Picture, { action, subjectId, at }: Word, now: InstantMs): boolean {
  const pair = picture.pairs.find(({ id }) => id === subjectId);
  const faces = pair ? [pair.surfaceA, pair.surfaceB] : picture.surfaces.map(({ id }) => id);
  const named = pair || subjectId === undefined ? faces : [subjectId];
  return named.some((id) => hasFailedSince(picture, id, hardestAsked[action] ?? "press-together", at, now));
}
