/**
 * At which grains a coat may start at all, by calendars, locks and recoat windows and as if nothing else were sprayed:
 * true of every plan, so that a search need not look elsewhere, and an empty list is a proof.
 */
import type { Coat, SlotProblem, Span } from "./problem";

/** Joins sorted spans that meet; here `to` is the last start, not the grain after it. */
function united(spans: Span[]): Span[] {
  spans.sort((one, other) => one.from - other.from);
  const joined: Span[] = [];
  for (const { from, to } of spans) {
    const last = joined.at(-1);
    if (to < from) continue;
    if (last && from <= last.to + 1) last.to = Math.max(last.to, to);
    else joined.push({ from, to });
  }
  return joined;
}

export function shared(ones: Span[], others: Span[]): Span[] {
  const common: Span[] = [];
  let at = 0;
  for (const one of ones) {
    while (at < others.length && (others[at] as Span).to < one.from) at++;
    for (let index = at; index < others.length; index++) {
      const other = others[index] as Span;
      if (other.from > one.to) break;
      common.push({ from: Math.max(one.from, other.from), to: Math.min(one.to, other.to) });
    }
  }
  return common;
}

/** Least change-over before a product, whatever was sprayed before. */
function leastSetups({ changeovers, productCount }: SlotProblem): number[] {
  const least = new Array<number>(productCount).fill(Number.POSITIVE_INFINITY);
  changeovers.forEach((grains, at) => {
    least[at % productCount] = Math.min(least[at % productCount] as number, grains);
  });
  return least;
}

const indices = (things: { index: number }[]): string => things.map(({ index }) => index).join(",");

/** By openings and working times alone. */
export function openStarts(problem: SlotProblem): (coat: Coat) => Span[] {
  const least = leastSetups(problem);
  const known = new Map<string, Span[]>();
  return (coat) => {
    const { booths, people, length, work, product } = coat;
    const key = [indices(booths), indices(people), length, work, product].join(";");
    const found = known.get(key);
    if (found) return found;
    const setup = least[product] as number;
    const inBooth = booths.flatMap(({ openings }) =>
      openings.map(({ from, to }) => ({ from: from + setup, to: to - length })),
    );
    const inPerson = people.flatMap(({ shifts }) =>
      shifts.map(({ from, to }) => ({ from: from + setup, to: to - work })),
    );
    const spans = shared(united(inBooth), united(inPerson));
    known.set(key, spans);
    return spans;
  };
}

function ownStarts(coat: Coat, open: Span[], horizon: number): Span[] {
  const start = coat.lock?.start;
  const from = Math.max(coat.earliest, start ?? 0);
  const to = Math.min(horizon - coat.length, start ?? horizon);
  return shared(open, [{ from, to }]);
}

/** Shifted by a lag at least, and with a hard window at most: the starts of `later` that some start of `earlier` allows. */
function reachableAfter(earlier: Coat, starts: Span[], lag: number, most: number): Span[] {
  return united(starts.map(({ from, to }) => ({ from: from + earlier.work + lag, to: to + earlier.work + most })));
}

function reachableBefore(earlier: Coat, starts: Span[], lag: number, most: number): Span[] {
  return united(starts.map(({ from, to }) => ({ from: from - earlier.work - most, to: to - earlier.work - lag })));
}

const hardWindow = (earlier: Coat, later: Coat): number =>
  later.previous === earlier && later.isHard ? later.maxLag : Number.POSITIVE_INFINITY;

/** The possible starts of every coat, by its index; `order` names coats after those they wait for. */
export function possibleStarts(problem: SlotProblem, order: Coat[]): Span[][] {
  const open = openStarts(problem);
  const starts = problem.coats.map((coat) => ownStarts(coat, open(coat), problem.horizon));
  const narrow = (coat: Coat, spans: Span[]) => {
    starts[coat.index] = shared(starts[coat.index] as Span[], spans);
  };
  for (let round = 0; round < 2; round++) {
    for (const coat of order)
      for (const { coat: earlier, lag } of coat.waitsFor)
        narrow(coat, reachableAfter(earlier, starts[earlier.index] as Span[], lag, hardWindow(earlier, coat)));
    for (const coat of [...order].reverse())
      for (const { coat: later, lag } of coat.awaitedBy)
        narrow(coat, reachableBefore(coat, starts[later.index] as Span[], lag, hardWindow(coat, later)));
  }
  return starts;
}

/** The first possible start from `grain` on, Infinity without one. */
export function firstStartFrom(starts: Span[], grain: number): number {
  let [low, high] = [0, starts.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((starts[middle] as Span).to < grain) low = middle + 1;
    else high = middle;
  }
  const span = starts[low];
  return span ? Math.max(span.from, grain) : Number.POSITIVE_INFINITY;
}
