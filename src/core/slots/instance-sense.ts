/** What a schema cannot say: names that must exist once, intervals in their order, windows that can be met. */
import type { CoatLine, SlotInstance, Unusable } from "./instance";

const unusable = (why: string, ...ids: string[]): Unusable => ({ kind: "slots-unusable", ids, why });

function repeated(names: string[]): string | undefined {
  const seen = new Set<string>();
  return names.find((name) => seen.size === seen.add(name).size);
}

function badIntervals(owner: string, what: string, intervals: [number, number][]): Unusable | undefined {
  // a stretch without length holds nothing: an absence cut it away
  const sorted = intervals.filter(([from, to]) => from < to).sort(([one], [other]) => one - other);
  for (const [index, [from, to]] of sorted.entries()) {
    const later = sorted[index + 1];
    if (later && later[0] < to)
      return unusable(`${owner}: ${what} ${from} to ${to} and ${later[0]} to ${later[1]} overlap.`, owner);
  }
}

function badCoat(coat: CoatLine, products: Set<string>, boothIds: Set<string>): Unusable | undefined {
  const { id, maxLag, minLag = 0 } = coat;
  if (!products.has(coat.product)) return unusable(`${id}: there is no product ${coat.product}.`, id);
  const booth = coat.booths?.find((name) => !boothIds.has(name));
  if (booth !== undefined) return unusable(`${id}: there is no booth ${booth}.`, id);
  if (maxLag != null && maxLag < minLag) {
    return unusable(`${id}: the recoat window closes (${maxLag}) before it opens (${minLag}).`, id);
  }
}

/** The first thing in an instance that contradicts itself, or nothing. */
export function contradictionIn(instance: SlotInstance): Unusable | undefined {
  const { booths, people, products, pieces, changeover } = instance;
  const coats = pieces.flatMap((piece) => piece.surfaces.flatMap((surface) => surface.coats));
  const lists: [string, string[]][] = [
    ["booth", booths.map(({ id }) => id)],
    ["person", people.map(({ id }) => id)],
    ["product", products.map(({ id }) => id)],
    ["piece", pieces.map(({ id }) => id)],
    ["coat", coats.map(({ id }) => id)],
    ["lock of coat", (instance.locks ?? []).map(({ coat }) => coat)],
  ];
  for (const [what, ids] of lists) {
    const twice = repeated(ids);
    if (twice !== undefined) return unusable(`The ${what} ${twice} is named twice.`, twice);
  }
  for (const { id, open } of booths) {
    const bad = badIntervals(id, "opening", open);
    if (bad) return bad;
  }
  for (const { id, available } of people) {
    const bad = badIntervals(id, "working time", available);
    if (bad) return bad;
  }
  const productIds = new Set(products.map(({ id }) => id));
  const boothIds = new Set(booths.map(({ id }) => id));
  const tables = [changeover.fromClean ?? {}, changeover.between, ...Object.values(changeover.between)];
  const stranger = tables.flatMap((table) => Object.keys(table)).find((product) => !productIds.has(product));
  if (stranger !== undefined) return unusable(`The change-overs name ${stranger}, which is no product.`, stranger);
  for (const piece of pieces) {
    const booth = piece.booths?.find((name) => !boothIds.has(name));
    if (booth !== undefined) return unusable(`${piece.id}: there is no booth ${booth}.`, piece.id);
    const surfaceIds = piece.surfaces.map(({ id }) => id);
    const twice = repeated(surfaceIds);
    if (twice !== undefined) return unusable(`${piece.id}: the surface ${twice} is named twice.`, piece.id);
    const unknown = (piece.masking ?? []).flatMap(({ before, after }) => [before, after]);
    const surface = unknown.find((name) => !surfaceIds.includes(name));
    if (surface !== undefined) return unusable(`${piece.id}: masking names ${surface}, no surface of it.`, piece.id);
  }
  for (const coat of coats) {
    const bad = badCoat(coat, productIds, boothIds);
    if (bad) return bad;
  }
  const coatIds = new Set(coats.map(({ id }) => id));
  const personIds = new Set(people.map(({ id }) => id));
  for (const { coat, booth, person } of instance.locks ?? []) {
    if (!coatIds.has(coat)) return unusable(`A lock names ${coat}, which is no coat.`, coat);
    if (booth !== undefined && !boothIds.has(booth)) return unusable(`${coat} is locked in ${booth}, no booth.`, coat);
    if (person !== undefined && !personIds.has(person))
      return unusable(`${coat} is locked with ${person}, who is nobody here.`, coat);
  }
}
