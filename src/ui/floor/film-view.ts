import type { GateAction } from "~/core/cure/demand";
import { type FilmShape, filmShape } from "~/core/cure/film-shape";
import type { Milestone } from "~/core/cure/milestone";
import { filmOn, type Picture } from "~/core/cure/picture";
import type { InstantMs } from "~/core/units";
import type { FilmPost, FilmProps, FilmSpan } from "~/ui/kit/film";
import { earnedWords, filmMoment, holdsWords } from "./gate-words";

/** Where now stands on a film that has no date: more than half is known, the rest is anybody's guess. */
const nowWithoutDate = 0.6;
/** Narrower than this share of the film, a gap is a hair that nobody sees. */
const narrowestShare = 0.004;

const milestoneWords: Partial<Record<Milestone, string>> = {
  "tack-free": "tack-free",
  handle: "handle",
  "press-together": "press together",
};

/** A film without a date that only a person can change: crossed, not rippled. */
const isBarred = ({ gate }: FilmShape) =>
  gate.state === "shut-for-good" ||
  (gate.state === "shut" &&
    gate.safeAt === undefined &&
    gate.needs.some(
      (need) => need.kind === "test-says-no" || need.kind === "below-minimum" || need.kind === "not-over-that",
    ));

/** How long the whole drawing is: to the safe time while it lies ahead, else to now. */
const scaleMs = ({ laidAt, nowAt, safeAt, gate }: FilmShape) => {
  const passedMs = Math.max(1, nowAt - laidAt);
  if (gate.state === "open") return passedMs;
  return safeAt !== undefined && safeAt > nowAt ? safeAt - laidAt : passedMs / nowWithoutDate;
};

/** The film is level once it has reached all there is; it carries a short ripple from tack-free on. */
const rippleOf = (shape: FilmShape): FilmProps["ripple"] => {
  const has = (milestone: Milestone) => shape.passed.some((passed) => passed.milestone === milestone);
  if (has("full-cure")) return "none";
  return has("tack-free") ? "tack" : "wet";
};

export type FilmView = { film: FilmProps; shape: FilmShape };

/**
 * The gauge of one surface against one question, as the kit draws it: moments become shares of the way from laid to safe.
 *
 * @returns nothing for a surface on which no film lies
 */
export function filmView(
  picture: Picture,
  surfaceId: string,
  asked: GateAction,
  now: InstantMs,
  zone: string,
  surfaceName: string,
  stateWord: string,
): FilmView | undefined {
  const shape = filmShape(picture, surfaceId, asked, now);
  if (!shape) return undefined;
  const { gate, laidAt, safeAt, likelyAt, window } = shape;
  const length = scaleMs(shape);
  const share = (at: InstantMs) => (at - laidAt) / length;
  const spans = (kinds: readonly string[]): FilmSpan[] =>
    shape.spans
      .filter((span) => kinds.includes(span.kind))
      .map(({ fromAt, toAt }) => ({ from: share(fromAt), to: share(toAt) }))
      .filter(({ from, to }) => to - from > narrowestShare);
  const hasDate = gate.state === "shut" && safeAt !== undefined && safeAt > now;
  const likely = hasDate && likelyAt !== undefined && likelyAt > now ? likelyAt : undefined;
  const label = asked.action === "recoat" ? "recoat" : gate.heldBy && milestoneWords[gate.heldBy.milestone];
  const coats = filmOn(picture, surfaceId, now);
  const recoat =
    asked.action === "recoat" && window
      ? { from: share(window.opensAt ?? now), to: share(window.closesAt), isShut: window.closesAt <= now }
      : undefined;
  return {
    shape,
    film: {
      words: {
        surface: surfaceName,
        state: stateWord,
        earned: gate.state === "shut" ? earnedWords(gate) : undefined,
        likely: likely === undefined ? undefined : filmMoment(likely, now, zone),
        safe: hasDate ? filmMoment(safeAt, now, zone) : undefined,
        holds: gate.state === "shut" ? holdsWords(picture, gate.heldBy, now) : undefined,
      },
      ripple: rippleOf(shape),
      coatsBelow: Math.max(
        0,
        coats.findIndex((coat) => coat.id === shape.coatId),
      ),
      now: share(now),
      ...(hasDate && { safe: { label, time: filmMoment(safeAt, now, zone) } }),
      ...(likely !== undefined && { likely: { at: share(likely), time: filmMoment(likely, now, zone) } }),
      posts: postsOf(shape, share, now, zone),
      lost: spans(["lost"]),
      assumed: spans(["unknown", "assumed"]),
      ...(recoat && { recoat }),
      isBarred: isBarred(shape),
    },
  };
}

function postsOf(shape: FilmShape, share: (at: InstantMs) => number, now: InstantMs, zone: string): FilmPost[] {
  const passed = shape.passed.flatMap(({ milestone, at }): FilmPost[] => {
    const label = milestoneWords[milestone];
    if (label === undefined || at === undefined || at <= shape.laidAt || at > now) return [];
    return [{ at: share(at), kind: "passed", label, time: filmMoment(at, now, zone) }];
  });
  const { gate } = shape;
  if (gate.state !== "open" || gate.evidence !== "test" || gate.sinceAt === undefined) return passed;
  return [
    ...passed,
    { at: share(gate.sinceAt), kind: "tested", label: "tested", time: filmMoment(gate.sinceAt, now, zone) },
  ];
}
