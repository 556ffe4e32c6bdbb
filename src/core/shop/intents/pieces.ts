import * as z from "zod/mini";
import { shopDayAt } from "../../calendar";
import { text } from "../../text";
import { quantity, shopDay } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, type Ruling, refused } from "../define";
import { boardId, pieceId, roomId, surfaceId } from "../entities/ids";
import { pieceKinds, stages, substrates } from "../entities/pieces";
import type { Change } from "../event";
import { editField } from "../field-edit";
import { floorHands, partners } from "../roles";
import { notice } from "./notice";
import { workNeeds } from "./piece-needs";

const surfaceBody = z.object({
  surfaceId,
  name: text(40),
  squareDecimetres: quantity("squareDecimetres"),
  wood: z.optional(text(60)),
  substrate: z._default(z.enum(substrates), "bare"),
  isPaleWanted: z._default(z.boolean(), false),
  bleedRisk: z._default(z.enum(["yes", "no", "unknown"]), "unknown"),
});

export const addPiece = defineIntent({
  kind: "add-piece",
  sort: "report",
  who: floorHands,
  body: z.object({
    pieceId,
    number: text(12),
    boardId,
    name: text(120),
    kind: z._default(z.enum(pieceKinds), "other"),
    partCount: z._default(quantity("partCount"), 1),
    widthMillimetres: z.optional(quantity("lengthMillimetres")),
    depthMillimetres: z.optional(quantity("lengthMillimetres")),
    heightMillimetres: z.optional(quantity("lengthMillimetres")),
    wood: z.optional(text(60)),
    roomId,
    acquiredOn: z.optional(shopDay),
    stage: z._default(z.enum(stages), "acquisition"),
    isPainted: z._default(z.enum(["yes", "no", "unknown"]), "unknown"),
    madeYear: z.optional(quantity("madeYear")),
    estimateMin: z.optional(quantity("durationMin")),
    surfaces: z._default(z.array(surfaceBody).check(z.maxLength(24)), []),
  }),
  reads: (body) => [
    { table: "board", id: body.boardId },
    { table: "room", id: body.roomId },
    { table: "piece", all: true },
  ],
  judge: (c) => {
    const { pieceId: id, surfaces, number: asked, ...fields } = c.body;
    const board = c.facts.get("board", fields.boardId);
    if (!board || board.closedOn) return refused({ kind: "unknown-thing", field: "boardId" });
    const room = c.facts.get("room", fields.roomId);
    if (!room || room.closedAt !== undefined) return refused({ kind: "unknown-thing", field: "roomId" });
    const today = shopDayAt(c.when.madeAt, c.shop.zone);
    const acquiredOn = fields.acquiredOn ?? shopDayAt(c.when.happenedAt, c.shop.zone);
    if (acquiredOn > today) {
      return refused({ kind: "out-of-bounds", field: "acquired on", found: acquiredOn, max: undefined, unit: "" });
    }
    const number = freeNumber(asked, new Set(c.facts.all("piece").map((piece) => piece.number)));
    const at = c.when.happenedAt;
    const changes: Change[] = [
      made("piece", { id, ...fields, number, acquiredOn, stageSinceAt: at }),
      ...surfaces.map(({ surfaceId: surface, ...rest }) => made("surface", { id: surface, pieceId: id, ...rest })),
      made("roomStay", { id: c.newId(1), pieceId: id, roomId: fields.roomId, fromAt: at, how: "arrived" }),
    ];
    if (number !== asked)
      changes.push(notice(c, 0, c.by.id, "number-changed", { pieceId: id, detail: { asked, number } }));
    return accepted({ kind: "piece-added", pieceId: id, memberId: c.by.id, changes });
  },
});

/**
 * A number that two people gave while apart: the second piece gets the next free one of the same pattern, and whoever
 * wrote the tag is told to write it again.
 */
export function freeNumber(asked: string, taken: ReadonlySet<string>): string {
  if (!taken.has(asked)) return asked;
  const [, stem = asked, digits = ""] = /^(.*?)(\d*)$/u.exec(asked) ?? [];
  for (let next = Number(digits || "1") + 1; ; next++) {
    const candidate = `${stem.slice(0, 12 - String(next).length)}${String(next).padStart(digits.length, "0")}`;
    if (!taken.has(candidate)) return candidate;
  }
}

const was = z.optional(z.unknown());
const editable = z.discriminatedUnion("field", [
  z.object({ pieceId, field: z.literal("name"), was, value: text(120) }),
  z.object({ pieceId, field: z.literal("kind"), was, value: z.enum(pieceKinds) }),
  z.object({ pieceId, field: z.literal("boardId"), was, value: boardId }),
  z.object({ pieceId, field: z.literal("partCount"), was, value: quantity("partCount") }),
  z.object({ pieceId, field: z.literal("widthMillimetres"), was, value: z.optional(quantity("lengthMillimetres")) }),
  z.object({ pieceId, field: z.literal("depthMillimetres"), was, value: z.optional(quantity("lengthMillimetres")) }),
  z.object({ pieceId, field: z.literal("heightMillimetres"), was, value: z.optional(quantity("lengthMillimetres")) }),
  z.object({ pieceId, field: z.literal("wood"), was, value: z.optional(text(60)) }),
  z.object({ pieceId, field: z.literal("isPainted"), was, value: z.enum(["yes", "no", "unknown"]) }),
  z.object({ pieceId, field: z.literal("madeYear"), was, value: z.optional(quantity("madeYear")) }),
  z.object({ pieceId, field: z.literal("estimateMin"), was, value: z.optional(quantity("durationMin")) }),
]);

export const editPiece = defineIntent({
  kind: "edit-piece",
  sort: "plan",
  who: partners,
  body: editable,
  reads: (body) => [
    { table: "piece", id: body.pieceId },
    ...(body.field === "boardId" ? [{ table: "board" as const, id: body.value }] : []),
  ],
  judge: (c) => {
    const piece = c.facts.get("piece", c.body.pieceId);
    if (!piece) return refused({ kind: "unknown-thing", field: "pieceId" });
    if (c.body.field === "boardId") {
      const board = c.facts.get("board", c.body.value);
      if (!board || board.closedOn) return refused({ kind: "unknown-thing", field: "boardId" });
    }
    return editField(c, "piece", piece, { kind: "piece-changed", pieceId: piece.id });
  },
});

/** Only a piece that has gone, with nobody's hand still on it, leaves the floor. */
export const archivePiece = defineIntent({
  kind: "archive-piece",
  sort: "taking",
  who: partners,
  body: z.object({ pieceId, how: z.enum(["handed-over", "thrown-out", "used-for-parts"]), why: text(300) }),
  reads: (body) => workNeeds(body.pieceId),
  judge: (c) => {
    const piece = c.facts.get("piece", c.body.pieceId);
    if (!piece) return refused({ kind: "unknown-thing", field: "pieceId" });
    if (piece.archivedAt !== undefined) return alreadySo();
    // rags heat up wherever the piece has gone
    const rags = c.facts
      .where("task", "pieceId", piece.id)
      .filter((task) => task.sort === "close-out" && (task.state === "open" || task.state === "held"));
    if (rags.length > 0) {
      const dueAt = Math.min(...rags.map((task) => task.dueAt ?? c.when.recordedAt));
      return refused({ kind: "rags-open", taskIds: rags.map((task) => task.id), dueAt, subjectIds: [piece.id] });
    }
    const by = restingOn(c, piece.id);
    if (by.length > 0) return refused({ kind: "still-in-use", by, subjectIds: [piece.id] });
    return accepted({
      kind: "piece-archived",
      pieceId: piece.id,
      memberId: c.by.id,
      changes: [changed("piece", piece.id, { archivedAt: c.when.recordedAt })],
    });
  },
});

const restingOn = (c: Context<unknown>, piece: string): string[] => [
  ...c.facts
    .where("claim", "pieceId", piece)
    .filter((claim) => claim.endedAt === undefined)
    .map((claim) => claim.id),
  ...c.facts
    .running()
    .filter((entry) => entry.subjects.some((subject) => subject.pieceId === piece))
    .map((entry) => entry.id),
];

export const restorePiece = defineIntent({
  kind: "restore-piece",
  sort: "word",
  who: partners,
  body: z.object({ pieceId, why: text(300) }),
  reads: (body) => [{ table: "piece", id: body.pieceId }],
  judge: (c): Ruling => {
    const piece = c.facts.get("piece", c.body.pieceId);
    if (!piece) return refused({ kind: "unknown-thing", field: "pieceId" });
    if (piece.archivedAt === undefined) return alreadySo();
    return accepted({
      kind: "piece-restored",
      pieceId: piece.id,
      memberId: c.by.id,
      changes: [changed("piece", piece.id, { archivedAt: null })],
    });
  },
});
