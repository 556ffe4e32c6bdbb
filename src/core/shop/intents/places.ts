import * as z from "zod/mini";
import { shopDayAt } from "../../calendar";
import { accepted, alreadySo, changed, defineIntent, made, refused } from "../define";
import { boardId, roomId } from "../entities/ids";
import { boardRow, roomRow, roomUses } from "../entities/places";
import type { Need } from "../facts";
import { editField } from "../field-edit";
import { partners } from "../roles";
import type { Piece } from "../tables";

const idsOnFloor = (pieces: readonly Piece[]): string[] =>
  pieces.filter((piece) => piece.archivedAt === undefined).map((piece) => piece.id);

const boardNeeds = (body: { boardId: string }): Need[] => [
  { table: "board", id: body.boardId },
  { table: "piece", field: "boardId", value: body.boardId },
];

export const addBoard = defineIntent({
  kind: "add-board",
  sort: "plan",
  who: partners,
  body: z.object({ boardId, name: boardRow.shape.name }),
  reads: () => [],
  judge: (c) =>
    accepted({
      kind: "board-added",
      memberId: c.by.id,
      changes: [made("board", { id: c.body.boardId, name: c.body.name })],
    }),
});

const was = z.optional(z.unknown());

export const editBoard = defineIntent({
  kind: "edit-board",
  sort: "plan",
  who: partners,
  body: z.object({ boardId, field: z.literal("name"), was, value: boardRow.shape.name }),
  reads: (body) => [{ table: "board", id: body.boardId }],
  judge: (c) => {
    const board = c.facts.get("board", c.body.boardId);
    if (!board) return refused({ kind: "unknown-thing", field: "boardId" });
    return editField(c, "board", board, { kind: "board-changed" });
  },
});

export const closeBoard = defineIntent({
  kind: "close-board",
  sort: "plan",
  who: partners,
  body: z.object({ boardId }),
  reads: boardNeeds,
  judge: (c) => {
    const board = c.facts.get("board", c.body.boardId);
    if (!board) return refused({ kind: "unknown-thing", field: "boardId" });
    if (board.closedOn !== undefined) return alreadySo();
    const by = idsOnFloor(c.facts.where("piece", "boardId", board.id));
    if (by.length > 0) return refused({ kind: "still-in-use", by });
    return accepted({
      kind: "board-closed",
      memberId: c.by.id,
      changes: [changed("board", board.id, { closedOn: shopDayAt(c.when.recordedAt, c.shop.zone) })],
    });
  },
});

const roomFields = {
  name: roomRow.shape.name,
  uses: z.array(z.enum(roomUses)).check(z.minLength(1), z.maxLength(roomUses.length)),
  usualCelsius: roomRow.shape.usualCelsius,
  usualHumidityPercent: roomRow.shape.usualHumidityPercent,
  gapLimitMin: roomRow.shape.gapLimitMin,
  racks: roomRow.shape.racks.check(
    z.maxLength(40),
    z.refine((racks) => new Set(racks.map((rack) => rack.rackId)).size === racks.length),
  ),
  hasOpenFlame: z.boolean(),
};

export const addRoom = defineIntent({
  kind: "add-room",
  sort: "plan",
  who: partners,
  body: z.object({
    roomId,
    ...roomFields,
    // three hours: a room read morning, noon and evening has no gaps while people are in it
    gapLimitMin: z._default(roomFields.gapLimitMin, 180),
    racks: z._default(roomFields.racks, []),
    hasOpenFlame: z._default(roomFields.hasOpenFlame, false),
  }),
  reads: () => [],
  judge: (c) => {
    const { roomId: id, ...fields } = c.body;
    return accepted({ kind: "room-added", memberId: c.by.id, changes: [made("room", { id, ...fields })] });
  },
});

const editableRoom = z.discriminatedUnion("field", [
  z.object({ roomId, field: z.literal("name"), was, value: roomFields.name }),
  z.object({ roomId, field: z.literal("uses"), was, value: roomFields.uses }),
  z.object({ roomId, field: z.literal("usualCelsius"), was, value: roomFields.usualCelsius }),
  z.object({ roomId, field: z.literal("usualHumidityPercent"), was, value: roomFields.usualHumidityPercent }),
  z.object({ roomId, field: z.literal("gapLimitMin"), was, value: roomFields.gapLimitMin }),
  z.object({ roomId, field: z.literal("racks"), was, value: roomFields.racks }),
  z.object({ roomId, field: z.literal("hasOpenFlame"), was, value: roomFields.hasOpenFlame }),
]);

const roomNeeds = (body: { roomId: string }): Need[] => [
  { table: "room", id: body.roomId },
  { table: "piece", field: "roomId", value: body.roomId },
];

export const editRoom = defineIntent({
  kind: "edit-room",
  sort: "plan",
  who: partners,
  body: editableRoom,
  reads: roomNeeds,
  judge: (c) => {
    const room = c.facts.get("room", c.body.roomId);
    if (!room) return refused({ kind: "unknown-thing", field: "roomId" });
    if (c.body.field === "racks") {
      const kept = new Set(c.body.value.map((rack) => rack.rackId as string));
      const onLostRack = c.facts
        .where("piece", "roomId", room.id)
        .filter((piece) => piece.rackId !== undefined && !kept.has(piece.rackId));
      const by = idsOnFloor(onLostRack);
      if (by.length > 0) return refused({ kind: "still-in-use", by });
    }
    return editField(c, "room", room, { kind: "room-changed" });
  },
});

export const closeRoom = defineIntent({
  kind: "close-room",
  sort: "plan",
  who: partners,
  body: z.object({ roomId }),
  reads: roomNeeds,
  judge: (c) => {
    const room = c.facts.get("room", c.body.roomId);
    if (!room) return refused({ kind: "unknown-thing", field: "roomId" });
    if (room.closedAt !== undefined) return alreadySo();
    const by = idsOnFloor(c.facts.where("piece", "roomId", room.id));
    if (by.length > 0) return refused({ kind: "still-in-use", by });
    return accepted({
      kind: "room-closed",
      memberId: c.by.id,
      changes: [changed("room", room.id, { closedAt: c.when.recordedAt })],
    });
  },
});
