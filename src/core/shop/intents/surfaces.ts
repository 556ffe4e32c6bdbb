import * as z from "zod/mini";
import { accepted, alreadySo, type Context, changed, defineIntent, made, type Ruling, refused } from "../define";
import { pairId, pieceId, surfaceId } from "../entities/ids";
import { pairRow, surfaceRow } from "../entities/pieces";
import type { Change } from "../event";
import type { Facts, Need } from "../facts";
import { editField } from "../field-edit";
import { floorHands, partners } from "../roles";
import type { ContactPair } from "../tables";

const { shape } = surfaceRow;

export const addSurface = defineIntent({
  kind: "add-surface",
  sort: "plan",
  who: floorHands,
  body: z.object({
    surfaceId,
    pieceId,
    name: shape.name,
    squareDecimetres: shape.squareDecimetres,
    wood: shape.wood,
    substrate: z._default(shape.substrate, "bare"),
    veneerMicrometres: shape.veneerMicrometres,
    isPaleWanted: z._default(shape.isPaleWanted, false),
    bleedRisk: z._default(shape.bleedRisk, "unknown"),
  }),
  reads: (body) => [{ table: "piece", id: body.pieceId }],
  judge: (c) => {
    const { surfaceId: id, ...fields } = c.body;
    const piece = c.facts.get("piece", fields.pieceId);
    if (!piece) return refused({ kind: "unknown-thing", field: "pieceId" });
    if (piece.archivedAt !== undefined) {
      return refused({
        kind: "after-it-left",
        thing: piece.number,
        happenedAt: c.when.happenedAt,
        leftAt: piece.archivedAt,
      });
    }
    return accepted({
      kind: "surface-added",
      pieceId: piece.id,
      memberId: c.by.id,
      changes: [made("surface", { id, ...fields })],
    });
  },
});

const was = z.optional(z.unknown());
const editable = z.discriminatedUnion("field", [
  z.object({ surfaceId, field: z.literal("name"), was, value: shape.name }),
  z.object({ surfaceId, field: z.literal("squareDecimetres"), was, value: shape.squareDecimetres }),
  z.object({ surfaceId, field: z.literal("wood"), was, value: shape.wood }),
  z.object({ surfaceId, field: z.literal("substrate"), was, value: shape.substrate }),
  z.object({ surfaceId, field: z.literal("veneerMicrometres"), was, value: shape.veneerMicrometres }),
  z.object({ surfaceId, field: z.literal("isPaleWanted"), was, value: shape.isPaleWanted }),
  z.object({ surfaceId, field: z.literal("bleedRisk"), was, value: shape.bleedRisk }),
]);

export const editSurface = defineIntent({
  kind: "edit-surface",
  sort: "plan",
  who: partners,
  body: editable,
  reads: (body) => [{ table: "surface", id: body.surfaceId }],
  judge: (c) => {
    const surface = c.facts.get("surface", c.body.surfaceId);
    if (!surface) return refused({ kind: "unknown-thing", field: "surfaceId" });
    return editField(c, "surface", surface, { kind: "surface-changed", pieceId: surface.pieceId });
  },
});

const pairsBody = z.object({
  pairs: z
    .array(z.object({ pairId, surfaceA: surfaceId, surfaceB: surfaceId, sort: pairRow.shape.sort }))
    .check(z.minLength(1), z.maxLength(100)),
});
type PairsBody = z.infer<typeof pairsBody>;

const pieceIdsOf = (body: PairsBody, facts: Facts): string[] => [
  ...new Set(
    body.pairs.flatMap(({ surfaceA, surfaceB }) =>
      [surfaceA, surfaceB].flatMap((id) => facts.get("surface", id)?.pieceId ?? []),
    ),
  ),
];

/** Two faces lie on each other whichever of them is named first. */
const isSamePair = (
  one: Pick<ContactPair, "surfaceA" | "surfaceB">,
  other: Pick<ContactPair, "surfaceA" | "surfaceB">,
) =>
  (one.surfaceA === other.surfaceA && one.surfaceB === other.surfaceB) ||
  (one.surfaceA === other.surfaceB && one.surfaceB === other.surfaceA);

/** Says which faces will lie on each other. What is not named stays as it is. */
export const setPairs = defineIntent({
  kind: "set-pairs",
  sort: "plan",
  who: partners,
  body: pairsBody,
  reads: (body, facts) => [
    ...body.pairs.flatMap(({ surfaceA, surfaceB, pairId: id }): Need[] => [
      { table: "surface", id: surfaceA },
      { table: "surface", id: surfaceB },
      { table: "pair", id },
    ]),
    ...pieceIdsOf(body, facts).map((value): Need => ({ table: "pair", field: "pieceId", value })),
  ],
  judge: (c) => {
    const wrong = pairsFault(c);
    if (wrong) return wrong;
    const there = pieceIdsOf(c.body, c.facts).flatMap((id) => c.facts.where("pair", "pieceId", id));
    const changes = c.body.pairs.flatMap((pair): Change[] => {
      const same = there.find((other) => isSamePair(other, pair));
      if (same) return same.sort === pair.sort ? [] : [changed("pair", same.id, { sort: pair.sort })];
      const { pairId: id, ...fields } = pair;
      const piece = c.facts.get("surface", pair.surfaceA)?.pieceId as string;
      const changedAt = c.when.recordedAt;
      return [made("pair", { id, pieceId: piece, ...fields, isApart: true, spacer: "none", changedAt })];
    });
    if (changes.length === 0) return alreadySo();
    const pieceOfPair = c.facts.get("surface", c.body.pairs[0]?.surfaceA ?? "")?.pieceId;
    return accepted({ kind: "pairs-set", pieceId: pieceOfPair, memberId: c.by.id, changes });
  },
});

function pairsFault(c: Context<PairsBody>): Ruling | undefined {
  for (const [index, pair] of c.body.pairs.entries()) {
    for (const side of ["surfaceA", "surfaceB"] as const) {
      if (!c.facts.get("surface", pair[side]))
        return refused({ kind: "unknown-thing", field: `pairs.${index}.${side}` });
    }
    if (pair.surfaceA === pair.surfaceB) {
      return refused({ kind: "malformed", field: `pairs.${index}`, expected: "two different surfaces" });
    }
    const isTwice = c.body.pairs.slice(0, index).some((earlier) => isSamePair(earlier, pair));
    const other = c.facts.get("pair", pair.pairId);
    if (isTwice || (other && !isSamePair(other, pair))) {
      return refused({ kind: "malformed", field: `pairs.${index}`, expected: "each pair once" });
    }
  }
  return undefined;
}
