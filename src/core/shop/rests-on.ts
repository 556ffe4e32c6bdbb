/**
 * Does something that was accepted later rest on an intent? Asked before it is taken back, and answered with yes wherever
 * that cannot be ruled out: a take-back that was refused can be lived with, a film that was let through by a coat which
 * never was cannot.
 */
import type { Change, ShopEvent } from "./event";
import type { Facts, Need } from "./facts";
import type { Past, PastEntry } from "./past";
import type { TableName } from "./tables";
import { waysByKind } from "./ways-back";

/** People, places, pieces and products are named by everything: naming one of them does not yet rest on what befell it. */
const namedByAll: readonly TableName[] = ["shop", "member", "board", "room", "piece", "surface", "product", "sheet"];

/** Rows by which somebody's earlier word is made void without unwriting it. */
const voidedBy: Partial<Record<TableName, string>> = { test: "takenBackAt", word: "withdrawnAt" };

type Entry = Pick<PastEntry, "intentId" | "kind" | "memberId" | "seq" | "events">;

/** What must be known of the pieces that an entry is about, to tell one surface from another. */
export const restNeeds = (entry: Pick<PastEntry, "events">): Need[] =>
  [...piecesOf(entry)].flatMap((value): Need[] => [
    { table: "coat", field: "pieceId", value },
    { table: "surface", field: "pieceId", value },
  ]);

/** Those of the later entries that rest on it; what has been taken back since, and its taking back, is no more. */
export function restingOn(facts: Pick<Facts, "get" | "where">, { entry, later }: Past): PastEntry[] {
  const undone = undoneIn(later);
  return later.filter((other) => !undone.has(other.intentId) && restsOn(facts, other, entry));
}

/**
 * Rests on the earlier one, because it
 * - had nothing left to say: somebody else reported something that it had left so already;
 * - wrote over it: a field that it set, or any field of a row that it made;
 * - names what it made or left different: a coat out of its mix, a claim on its task;
 * - was ruled on with it in view: on the same piece (and surface, where the ruling goes no further) by a rule that looks
 *   at rows of the tables that it wrote, as every gate does.
 */
export function restsOn(facts: Pick<Facts, "get" | "where">, later: Entry, earlier: Entry): boolean {
  if (later.events.length === 0) return later.memberId !== earlier.memberId && tellsOfTheSame(later, earlier);
  return writesOver(later, earlier) || names(later, earlier) || wasRuledWithInView(facts, later, earlier);
}

const tellsOfTheSame = (silent: Entry, earlier: Entry): boolean => {
  const tells = waysByKind[silent.kind]?.tells;
  return tells !== undefined && changesOf(earlier).some(({ table }) => table === tells);
};

const changesOf = ({ events }: Pick<PastEntry, "events">): Change[] => events.flatMap(({ changes }) => changes);

const rowKey = (change: Change): string | undefined => ("id" in change ? `${change.table} ${change.id}` : undefined);

function writesOver(later: Entry, earlier: Entry): boolean {
  const written = new Map<string, "row" | Set<string>>();
  for (const change of changesOf(earlier)) {
    const key = rowKey(change);
    if (key === undefined || !("set" in change)) continue;
    const before = written.get(key);
    if (("isNew" in change && change.isNew) || before === "row") written.set(key, "row");
    else written.set(key, new Set([...(before ?? []), ...Object.keys(change.set)]));
  }
  return changesOf(later).some((change) => {
    const left = written.get(rowKey(change) ?? "");
    if (left === undefined) return false;
    return left === "row" || !("set" in change) || Object.keys(change.set).some((field) => left.has(field));
  });
}

function names(later: Entry, earlier: Entry): boolean {
  const things = new Set<string>();
  let isOfCan = false;
  for (const change of changesOf(earlier)) {
    if (!("id" in change) || (namedByAll.includes(change.table) && !("isNew" in change && change.isNew))) continue;
    things.add(change.id);
    isOfCan ||= change.table === "can";
  }
  return changesOf(later).some((change) => {
    if (!("set" in change)) return false;
    const said = stringsIn(change.set);
    // what came out of a mix came out of its cans, which it does not name
    return said.some((value) => things.has(value)) || (isOfCan && hasMix(change.set));
  });
}

const hasMix = ({ applied }: Record<string, unknown>): boolean =>
  (applied as { mixId?: string } | null | undefined)?.mixId !== undefined;

function wasRuledWithInView(facts: Pick<Facts, "get" | "where">, later: Entry, earlier: Entry): boolean {
  const ways = waysByKind[later.kind];
  const shared = [...piecesOf(later)].filter((id) => piecesOf(earlier).has(id));
  if (shared.length === 0 || (ways && !ways.looksAt)) return false;
  const wrote = changesOf(earlier).some(({ table }) => ways?.looksAt?.includes(table) ?? true);
  if (!wrote) return false;
  if (!ways?.isConfined) return true;
  const [there, here] = [surfacesOf(facts, earlier, shared), surfacesOf(facts, later, shared)];
  return there.size === 0 || here.size === 0 || [...there].some((id) => here.has(id));
}

const piecesOf = ({ events }: Pick<PastEntry, "events">): Set<string> =>
  new Set(events.flatMap(({ pieceId }: ShopEvent) => pieceId ?? []));

/** The surfaces of which an entry speaks; none where it speaks of the whole piece. */
function surfacesOf(facts: Pick<Facts, "get" | "where">, entry: Entry, pieceIds: readonly string[]): Set<string> {
  const known = new Set(pieceIds.flatMap((id) => facts.where("surface", "pieceId", id).map((surface) => surface.id)));
  const surfaces = new Set<string>();
  for (const change of changesOf(entry)) {
    const ofCoat = "id" in change && change.table === "coat" ? facts.get("coat", change.id)?.surfaceId : undefined;
    const said = [ofCoat, "id" in change ? change.id : undefined, ...("set" in change ? stringsIn(change.set) : [])];
    for (const id of said) if (id !== undefined && known.has(id)) surfaces.add(id);
  }
  return surfaces;
}

/** Intents that are no more, with those that undid them. */
function undoneIn(later: readonly PastEntry[]): Set<string> {
  const undone = new Set<string>();
  const voided = new Map<string, string>();
  for (const { intentId, events } of later) {
    for (const { takesBack } of events) if (takesBack) undone.add(takesBack.intentId).add(intentId);
    for (const change of changesOf({ events })) {
      if ("set" in change && "id" in change && change.set[voidedBy[change.table] ?? ""])
        voided.set(change.id, intentId);
    }
  }
  for (const { intentId, events } of later) {
    const made = changesOf({ events }).flatMap((change) => ("isNew" in change && change.isNew ? [change] : []));
    const judged = made.filter(({ table }) => voidedBy[table] !== undefined);
    if (judged.length === 0 || judged.length < made.length) continue;
    if (!judged.every(({ id }) => voided.has(id))) continue;
    undone.add(intentId);
    for (const { id } of judged) undone.add(voided.get(id) as string);
  }
  return undone;
}

/** Every text in a value, however deep. */
function stringsIn(value: unknown): string[] {
  if (typeof value === "string") return [value];
  return value !== null && typeof value === "object" ? Object.values(value).flatMap(stringsIn) : [];
}
