/** The validated, indexed form of an instance: objects that point at each other instead of names. */
import { accept, type Result, refuse } from "~/core/result";
import { instanceSchema, type LockLine, mostCoats, type PieceLine, type SlotInstance, type Unusable } from "./instance";
import { contradictionIn } from "./instance-sense";
import { inOrder } from "./order";
import { possibleStarts } from "./starts";

export type Span = { from: number; to: number };
export type Booth = { index: number; id: string; openings: Span[] };
export type Person = { index: number; id: string; skills: Set<string>; shifts: Span[] };
/** `coat` may start `lag` grains after the end of work of the other at the earliest. */
export type Wait = { coat: Coat; lag: number };
export type Lock = { booth?: Booth; person?: Person; start?: number };

export type Coat = {
  index: number;
  id: string;
  piece: Piece;
  surface: Surface;
  /** Index of the product in the change-over table. */
  product: number;
  work: number;
  /** Work and flash-off: how long booth and piece are taken. */
  length: number;
  skill: string | null;
  booths: Booth[];
  /** Who may spray it, the person with the fewest skills first. */
  people: Person[];
  previous: Coat | null;
  next: Coat | null;
  minLag: number;
  /** Infinity without a recoat window. */
  maxLag: number;
  isHard: boolean;
  sandTime: number;
  voc: number;
  lock: Lock | null;
  waitsFor: Wait[];
  awaitedBy: Wait[];
  /** Earliest start by the piece's readiness and, without a lock, by now. */
  earliest: number;
  /** Possible starts, first to last, by everything but the other pieces. */
  starts: Span[];
};
export type Surface = { id: string; coats: Coat[]; cure: number; handle: number };
export type Piece = {
  index: number;
  id: string;
  ready: number;
  due: number;
  weight: number;
  rackArea: number;
  surfaces: Surface[];
  coats: Coat[];
};

export type SlotProblem = {
  instance: SlotInstance;
  booths: Booth[];
  people: Person[];
  pieces: Piece[];
  coats: Coat[];
  coatById: Map<string, Coat>;
  boothById: Map<string, Booth>;
  personById: Map<string, Person>;
  productCount: number;
  /** Grains by previous product and product; the row after the last product is the clean gun. */
  changeovers: Int32Array;
  longestChangeover: number;
  horizon: number;
  dayLength: number;
  /** Infinity where nothing limits. */
  rackCapacity: number;
  dailyVoc: number;
};

/** Grains of gun cleaning before a coat of `product`, after `previous` (null: the gun is clean). */
export const changeoverOf = (problem: SlotProblem, previous: number | null, product: number): number =>
  problem.changeovers[(previous ?? problem.productCount) * problem.productCount + product] as number;

const spansOf = (intervals: [number, number][]): Span[] =>
  intervals
    .filter(([from, to]) => from < to)
    .map(([from, to]) => ({ from, to }))
    .sort((one, other) => one.from - other.from);

function changeoverTable({ products, changeover }: SlotInstance): Int32Array {
  const count = products.length;
  const table = new Int32Array((count + 1) * count);
  products.forEach(({ id: to }, column) => {
    products.forEach(({ id: from }, row) => {
      table[row * count + column] = changeover.between[from]?.[to] ?? 0;
    });
    table[count * count + column] = changeover.fromClean?.[to] ?? 0;
  });
  return table;
}

function lockOf(problem: SlotProblem, line: LockLine): Lock {
  return {
    ...(line.booth !== undefined && { booth: problem.boothById.get(line.booth) as Booth }),
    ...(line.person !== undefined && { person: problem.personById.get(line.person) as Person }),
    ...(line.start !== undefined && { start: line.start }),
  };
}

function addPiece(problem: SlotProblem, line: PieceLine, productIndex: Map<string, number>, locks: Map<string, Lock>) {
  const { id, ready, due, weight } = line;
  const index = problem.pieces.length;
  const piece: Piece = { index, id, ready, due, weight, rackArea: line.rackArea ?? 0, surfaces: [], coats: [] };
  problem.pieces.push(piece);
  for (const surfaceLine of line.surfaces) {
    const { cure } = surfaceLine;
    const surface: Surface = { id: surfaceLine.id, coats: [], cure, handle: surfaceLine.handle ?? cure };
    piece.surfaces.push(surface);
    let previous: Coat | null = null;
    for (const coatLine of surfaceLine.coats) {
      const lock = locks.get(coatLine.id) ?? null;
      const skill = coatLine.skill || null;
      const boothIds = coatLine.booths ?? line.booths;
      const coat: Coat = {
        index: problem.coats.length,
        id: coatLine.id,
        piece,
        surface,
        product: productIndex.get(coatLine.product) as number,
        work: coatLine.work,
        length: coatLine.work + (coatLine.flash ?? 0),
        skill,
        booths: problem.booths.filter(
          (booth) => (!boothIds || boothIds.includes(booth.id)) && (!lock?.booth || lock.booth === booth),
        ),
        people: problem.people
          .filter((person) => (!skill || person.skills.has(skill)) && (!lock?.person || lock.person === person))
          .sort((one, other) => one.skills.size - other.skills.size),
        previous,
        next: null,
        minLag: coatLine.minLag ?? 0,
        maxLag: (previous && coatLine.maxLag) ?? Number.POSITIVE_INFINITY,
        isHard: (coatLine.overMax ?? "hard") === "hard",
        sandTime: coatLine.sandTime ?? 0,
        voc: coatLine.voc ?? 0,
        lock,
        waitsFor: [],
        awaitedBy: [],
        earliest: Math.max(ready, lock ? 0 : (problem.instance.now ?? 0)),
        starts: [],
      };
      if (previous) {
        previous.next = coat;
        waitBetween(previous, coat, coat.minLag);
      }
      problem.coats.push(coat);
      problem.coatById.set(coat.id, coat);
      piece.coats.push(coat);
      surface.coats.push(coat);
      previous = coat;
    }
  }
  for (const { before, after, lag = 0 } of line.masking ?? []) {
    const first = piece.surfaces.find((surface) => surface.id === after)?.coats[0] as Coat;
    waitBetween(piece.surfaces.find((surface) => surface.id === before)?.coats.at(-1) as Coat, first, lag);
  }
}

function waitBetween(earlier: Coat, later: Coat, lag: number) {
  later.waitsFor.push({ coat: earlier, lag });
  earlier.awaitedBy.push({ coat: later, lag });
}

/** The problem of an instance that is known to make sense. */
export function indexed(instance: SlotInstance): SlotProblem {
  const booths = instance.booths.map(({ id, open }, index) => ({ index, id, openings: spansOf(open) }));
  const people = instance.people.map(({ id, skills, available }, index) => ({
    index,
    id,
    skills: new Set(skills),
    shifts: spansOf(available),
  }));
  const changeovers = changeoverTable(instance);
  const problem: SlotProblem = {
    instance,
    booths,
    people,
    pieces: [],
    coats: [],
    coatById: new Map(),
    boothById: new Map(booths.map((booth) => [booth.id, booth])),
    personById: new Map(people.map((person) => [person.id, person])),
    productCount: instance.products.length,
    changeovers,
    longestChangeover: changeovers.reduce((longest, grains) => Math.max(longest, grains), 0),
    horizon: instance.horizon,
    dayLength: instance.dayLength,
    rackCapacity: instance.rack?.capacity ?? Number.POSITIVE_INFINITY,
    dailyVoc: instance.voc?.dailyLimit ?? Number.POSITIVE_INFINITY,
  };
  const productIndex = new Map(instance.products.map(({ id }, index) => [id, index]));
  const locks = new Map((instance.locks ?? []).map((line) => [line.coat, lockOf(problem, line)]));
  for (const line of instance.pieces) addPiece(problem, line, productIndex, locks);
  const starts = possibleStarts(problem, inOrder(problem.coats));
  for (const coat of problem.coats) coat.starts = starts[coat.index] as Span[];
  return problem;
}

/** An instance as it was written, parsed and indexed, or what to mend in it. */
export function parseProblem(written: unknown): Result<SlotProblem, Unusable> {
  const parsed = instanceSchema.safeParse(written);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const place = (issue?.path ?? []).map((key) => (typeof key === "number" ? `#${key + 1}` : String(key))).join(" ");
    return refuse({
      kind: "slots-unusable",
      ids: [],
      why: `${place || "instance"}: ${issue?.message ?? "unreadable"}`,
    });
  }
  const instance = parsed.data;
  const coatCount = instance.pieces
    .flatMap((piece) => piece.surfaces)
    .reduce((sum, { coats }) => sum + coats.length, 0);
  if (coatCount > mostCoats) {
    const why = `${coatCount} coats are more than can be planned at once (${mostCoats}). Plan fewer weeks at a time.`;
    return refuse({ kind: "slots-unusable", ids: [], why });
  }
  const contradiction = contradictionIn(instance);
  return contradiction ? refuse(contradiction) : accept(indexed(instance));
}
