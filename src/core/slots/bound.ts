/**
 * What no plan can beat, level by level: each piece alone through the calendars, and how soon the booths and the people
 * could have done the work of a number of pieces. Proved, never estimated.
 */
import { cheapestAssignment } from "./assignment";
import type { Objective } from "./check";
import { inOrder } from "./order";
import { type Coat, changeoverOf, type Piece, type SlotProblem, type Span } from "./problem";
import { firstStartFrom } from "./starts";

/** Above this many pieces only single pieces are bounded: the matching below grows with the cube. */
const mostMatched = 250;

/** Earliest start of every coat as if its piece were alone, by its index. */
function earliestStarts(problem: SlotProblem): number[] {
  const starts: number[] = [];
  for (const coat of inOrder(problem.coats)) {
    let from = coat.earliest;
    for (const { coat: earlier, lag } of coat.waitsFor)
      from = Math.max(from, (starts[earlier.index] as number) + earlier.work + lag);
    starts[coat.index] = firstStartFrom(coat.starts, from);
  }
  return starts;
}

const earliestRelease = ({ surfaces }: Piece, starts: number[]): number =>
  Math.max(
    ...surfaces.map(({ coats, cure }) => {
      const last = coats.at(-1) as Coat;
      return (starts[last.index] as number) + last.work + cure;
    }),
  );

/** Least time from the end of work of any coat of a piece, the last one sprayed, to its release. */
const shortestTail = ({ surfaces }: Piece): number => Math.min(...surfaces.map(({ cure }) => cure));

/** The grain by which stretches that begin at `from` or later have given so much time in all. */
function reachedAt(spans: Span[], from: number): (need: number) => number {
  const edges = spans.flatMap((span) =>
    span.to > from
      ? [
          { at: Math.max(span.from, from), change: 1 },
          { at: span.to, change: -1 },
        ]
      : [],
  );
  edges.sort((one, other) => one.at - other.at || one.change - other.change);
  return (need) => {
    let [given, open, at] = [0, 0, from];
    for (const edge of edges) {
      const more = open * (edge.at - at);
      if (open && given + more >= need) return at + Math.ceil((need - given) / open);
      given += more;
      open += edge.change;
      at = edge.at;
    }
    return at;
  };
}

/** Work of whole pieces that can only be done in some stretches: booths with lengths, people with work. */
type Load = { spans: Span[]; need: (coat: Coat) => number; flash: (coat: Coat) => number };

function loadsOf(problem: SlotProblem): Load[] {
  const booths = problem.booths.flatMap(({ openings }) => openings);
  const people = problem.people.flatMap(({ shifts }) => shifts);
  return [
    { spans: booths, need: ({ length }) => length, flash: ({ length, work }) => length - work },
    { spans: people, need: ({ work }) => work, flash: () => 0 },
  ];
}

/** For 1, 2, … pieces: before which grain not so many of them can have all their work behind them. */
function workEnds(problem: SlotProblem, { spans, need, flash }: Load): number[] {
  const from = Math.min(...problem.coats.map(({ earliest }) => earliest));
  const slack = Math.max(...problem.coats.map(flash));
  const needs = problem.pieces.map(({ coats }) => coats.reduce((sum, coat) => sum + need(coat), 0));
  needs.sort((one, other) => one - other);
  const reached = reachedAt(spans, from);
  let sum = 0;
  return needs.map((grains) => {
    sum += grains;
    return reached(sum) - slack;
  });
}

function tardinessBound(problem: SlotProblem, releases: number[], ends: number[][]): number {
  const late = ({ weight, due }: Piece, release: number) => weight * Math.max(0, release - due);
  const { pieces } = problem;
  const alone = pieces.reduce((sum, piece) => sum + late(piece, releases[piece.index] as number), 0);
  if (pieces.length > mostMatched) return alone;
  // whatever the order, the k-th piece done is not done before the k shortest could be
  const matched = ends.map((rankEnds) =>
    cheapestAssignment(
      pieces.map((piece) =>
        rankEnds.map((end) => late(piece, Math.max(releases[piece.index] as number, end + shortestTail(piece)))),
      ),
    ),
  );
  return Math.max(alone, ...matched);
}

/** Change-overs at the least: each coat's cheapest forerunner; and sanding that no start avoids. */
function handlingBound(problem: SlotProblem): number {
  const products = [...new Set(problem.coats.map(({ product }) => product))];
  const least = new Map(
    products.map((product) => [
      product,
      Math.min(
        changeoverOf(problem, null, product),
        ...products.map((previous) => changeoverOf(problem, previous, product)),
      ),
    ]),
  );
  return problem.coats.reduce((sum, coat) => {
    const first = coat.starts[0];
    const last = coat.previous?.starts.at(-1);
    const isAlwaysSanded =
      !coat.isHard && first && last && first.from - last.to - (coat.previous?.work ?? 0) > coat.maxLag;
    return sum + (least.get(coat.product) as number) + (isAlwaysSanded ? coat.sandTime : 0);
  }, 0);
}

/** Lower bounds of the three levels, each true of every plan. */
export function bounds(problem: SlotProblem): Objective {
  if (!problem.coats.length) return { tardiness: 0, handling: 0, makespan: 0 };
  const starts = earliestStarts(problem);
  const releases = problem.pieces.map((piece) => earliestRelease(piece, starts));
  const ends = loadsOf(problem).map((load) => workEnds(problem, load));
  const tail = Math.min(...problem.pieces.map(shortestTail));
  const makespan = Math.max(...releases, ...ends.map((rankEnds) => (rankEnds.at(-1) as number) + tail));
  return { tardiness: tardinessBound(problem, releases, ends), handling: handlingBound(problem), makespan };
}
