/** More work than a stretch of time holds: a proof by adding up, for booths, for people and for solvent. */
import type { Infeasible } from "./infeasible";
import type { Coat, SlotProblem, Span } from "./problem";

type Bounded = { coat: Coat; from: number; to: number; need: number };

/** Stretches are tried between this many begins and ends at most, so that a long plan stays quick. */
const mostEdges = 60;

const sample = (edges: number[]): number[] => {
  const distinct = [...new Set(edges)].sort((one, other) => one - other);
  if (distinct.length <= mostEdges) return distinct;
  return distinct.filter((_, index) => index % Math.ceil(distinct.length / mostEdges) === 0);
};

const within = (spans: Span[], from: number, to: number): number =>
  spans.reduce((sum, span) => sum + Math.max(0, Math.min(span.to, to) - Math.max(span.from, from)), 0);

/** The coats of an overfull stretch, cut down to as few as still overfill it; null when everything fits. */
function overfilled(coats: Bounded[], capacity: (from: number, to: number) => number): Bounded[] | null {
  for (const from of sample(coats.map((coat) => coat.from))) {
    const later = coats.filter((coat) => coat.from >= from);
    for (const to of sample(later.map((coat) => coat.to))) {
      const inside = later.filter((coat) => coat.to <= to);
      const room = capacity(from, to);
      let need = inside.reduce((sum, coat) => sum + coat.need, 0);
      if (need <= room) continue;
      const fewest = inside.sort((one, other) => other.need - one.need);
      while (fewest.length && need - (fewest.at(-1) as Bounded).need > room) need -= (fewest.pop() as Bounded).need;
      return fewest;
    }
  }
  return null;
}

const bounded = (coats: Coat[], need: (coat: Coat) => number): Bounded[] =>
  coats.flatMap((coat) => {
    const [first, last] = [coat.starts[0], coat.starts.at(-1)];
    return first && last ? [{ coat, from: first.from, to: last.to + need(coat), need: need(coat) }] : [];
  });

const conflict = (coats: Bounded[], why: string): Infeasible => ({
  code: "CAPACITY",
  ids: coats.map(({ coat }) => coat.id),
  why,
});

type Workplace = { index: number; id: string; spans: Span[] };

/** Whether the coats that only some booths or people can take are too many for them. */
function overfullPlaces(
  coats: Coat[],
  placesOf: (coat: Coat) => Workplace[],
  need: (coat: Coat) => number,
): { coats: Bounded[]; places: Workplace[] } | null {
  const groups = new Map<string, Workplace[]>();
  for (const coat of coats) {
    const places = placesOf(coat);
    groups.set(places.map(({ index }) => index).join(","), places);
  }
  for (const places of groups.values()) {
    const own = coats.filter((coat) =>
      placesOf(coat).every((place) => places.some(({ index }) => index === place.index)),
    );
    const found = overfilled(bounded(own, need), (from, to) =>
      places.reduce((sum, { spans }) => sum + within(spans, from, to), 0),
    );
    if (found) return { coats: found, places };
  }
  return null;
}

export function overfull(problem: SlotProblem): Infeasible | null {
  const { coats, dailyVoc, dayLength } = problem;
  const names = (places: Workplace[]) => places.map(({ id }) => id).join(", ");
  const booths = problem.booths.map(({ index, id, openings }) => ({ index, id, spans: openings }));
  const people = problem.people.map(({ index, id, shifts }) => ({ index, id, spans: shifts }));
  const tooMany = overfullPlaces(
    coats,
    (coat) => coat.booths.map(({ index }) => booths[index] as Workplace),
    ({ length }) => length,
  );
  if (tooMany) {
    const why = `Each of these coats fits alone, but ${names(tooMany.places)} is not open long enough for all of them. Open longer, or promise later.`;
    return conflict(tooMany.coats, why);
  }
  const tooMuch = overfullPlaces(
    coats,
    (coat) => coat.people.map(({ index }) => people[index] as Workplace),
    ({ work }) => work,
  );
  if (tooMuch) {
    const why = `Each of these coats fits alone, but ${names(tooMuch.places)} cannot spray all of them in time. Ask a second person, or promise later.`;
    return conflict(tooMuch.coats, why);
  }
  if (dailyVoc === Number.POSITIVE_INFINITY) return null;
  const days = bounded(coats, ({ voc }) => voc).map((line) => {
    const [first, last] = [line.coat.starts[0] as Span, line.coat.starts.at(-1) as Span];
    return { ...line, from: Math.floor(first.from / dayLength), to: Math.floor(last.to / dayLength) + 1 };
  });
  const found = overfilled(days, (from, to) => (to - from) * dailyVoc);
  return (
    found &&
    conflict(
      found,
      `In the days that they can be sprayed these coats give off more solvent than the limits allow. Spread them.`,
    )
  );
}
