import type { RefusalOf } from "../shop/refusal";
import type { Word } from "../shop/tables";
import type { InstantMs } from "../units";
import { demandsOf, type FaceDemand, type GateAction } from "./demand";
import { facePart } from "./face";
import { gate } from "./gate";
import type { FacePart, GateNeed } from "./gate-answer";
import type { Milestone } from "./milestone";
import type { Picture } from "./picture";
import { filmParts } from "./recoat";
import { isWordAction, mayBeSpokenFor } from "./word";

export type WordAsked = Pick<Word, "action" | "subjectId"> & { wrap?: Extract<GateAction, { action: "wrap" }>["wrap"] };
export type NoWordCause = RefusalOf<"no-word-opens">["cause"];

export type WordFound =
  | { kind: "may" }
  /** Nothing of it is shut: there is no need of a word. */
  | { kind: "open" }
  | { kind: "no-word"; cause: NoWordCause };

type AskedPart = { part: FacePart; milestone: Milestone };

const sealing: readonly WordAsked["wrap"][] = ["plastic", "foil", "foam"];

/** The ways in which an act may be meant: the film that allows the gentlest may be spoken for, whatever the others say. */
const waysOf = ({ action, wrap }: WordAsked): Exclude<GateAction, { action: "recoat" } | { action: "sand" }>[] => {
  switch (action) {
    case "touch":
      return [{ action }];
    case "move":
      return [
        { action, carried: "bearers" },
        { action, carried: "hands" },
      ];
    case "press-together":
      return [{ action }];
    case "stack":
      return [{ action }, { action, material: "paper" }, { action, material: "felt" }, { action, material: "foam" }];
    case "wrap":
      return wrap
        ? [{ action, wrap, isStrapped: true }]
        : [
            { action, wrap: "loose-blanket", isStrapped: false },
            { action, wrap: "snug-blanket", isStrapped: true },
            { action, wrap: "snug-paper", isStrapped: true },
          ];
    case "hand-over":
      return [
        { action, wrap: "loose-blanket", isStrapped: false },
        { action, wrap: "snug-blanket", isStrapped: true },
      ];
    default:
      return [];
  }
};

const isAbout = ({ surfaceId, pairId }: FaceDemand, subjectId: string | undefined) =>
  subjectId === undefined || subjectId === surfaceId || subjectId === pairId;

/** Every face of an act, in each of the ways in which it may be meant; for a coat, all that the film below says. */
const askedParts = (picture: Picture, asked: WordAsked, at: InstantMs): AskedPart[][] => {
  if (asked.action === "recoat") {
    const surfaces = picture.surfaces.filter(({ id }) => asked.subjectId === undefined || asked.subjectId === id);
    const next = surfaces.flatMap((surface) => {
      const planned = picture.coats
        .filter((coat) => coat.surfaceId === surface.id && coat.state === "planned")
        .sort((one, other) => one.position - other.position)[0];
      return planned
        ? filmParts(
            { ...picture, words: [] },
            { action: "recoat", surfaceId: surface.id, sheetId: planned.sheetId },
            at,
          )
        : [];
    });
    return [next.map((part) => ({ part, milestone: "recoat-opens" }))];
  }
  return waysOf(asked).map((way) =>
    demandsOf(picture, way)
      .filter((face) => isAbout(face, asked.subjectId))
      .map((face) => ({ part: facePart(picture, face, at, false), milestone: face.demand.milestone })),
  );
};

const causeOf = (parts: readonly AskedPart[]): NoWordCause | undefined => {
  const shut = parts.filter(({ part }) => part.state !== "open");
  const has = (kind: GateNeed["kind"]) => shut.some(({ part }) => part.needs.some((need) => need.kind === kind));
  if (has("test-says-no")) return "failed-test";
  if (has("wood-wet")) return "wood";
  if (shut.some(({ part }) => part.state === "shut-for-good")) return "never";
  if (shut.some(({ milestone }) => milestone === "full-cure")) return "full-cure";
  if (shut.some(({ milestone }) => milestone === "plastic-wrap")) return "plastic";
  return shut.some(({ part, milestone }) => !mayBeSpokenFor(part, milestone)) ? "only-waiting" : undefined;
};

/**
 * Whether a word may open a gate, and if not, why: it stands in for waiting and for nothing else.
 *
 * @param at the facts up to this instant are asked
 */
export const wordHindrance = (picture: Picture, asked: WordAsked, at: InstantMs): WordFound => {
  const { action, wrap } = asked;
  if (action === "use") return { kind: "no-word", cause: "full-cure" };
  if (action === "sand") return { kind: "no-word", cause: sandCause(picture, asked, at) };
  if (wrap !== undefined && sealing.includes(wrap)) return { kind: "no-word", cause: "plastic" };
  if (!isWordAction(action)) return { kind: "no-word", cause: "only-waiting" };
  const ways = askedParts(picture, asked, at);
  if (ways.every((parts) => parts.every(({ part }) => part.state === "open")))
    // no film holds it; if something else does, a joint in its clamps, that is not waited for but looked at
    return waysOf(asked).every((way) => gate(picture, way, at).state === "open")
      ? { kind: "open" }
      : { kind: "no-word", cause: "only-waiting" };
  const causes = ways.map(causeOf);
  // what one way of it never allows, another may: paper between faces that never lie on each other
  const [cause] = causes;
  return causes.some((found) => found === undefined) || cause === undefined
    ? { kind: "may" }
    : { kind: "no-word", cause };
};

const sandCause = (picture: Picture, { subjectId }: WordAsked, at: InstantMs): NoWordCause => {
  const isWet = picture.surfaces
    .filter(({ id }) => subjectId === undefined || subjectId === id)
    .some((surface) =>
      gate(picture, { action: "sand", surfaceId: surface.id }, at).needs.some(({ kind }) => kind === "wood-wet"),
    );
  return isWet ? "wood" : "sanding";
};
