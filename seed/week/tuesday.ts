import { entryIdOf, shift } from "../hours";
import { type Pen, promiseIdOf, taskIdOf } from "../pen";
import { pieceIdOf } from "../pieces";
import type { Line } from "../script";

/** Blocker and enamel on the wardrobe, oil on the table, old paint on the chest, and a timer that is forgotten. */
export const tuesday = (pen: Pen): Line[] => [
  pen.read("Tue 07:45", "fern", "spray"),
  pen.read("Tue 07:45", "fern", "loft"),
  ...shift(pen, "fern", "Tue", "08:15 K-202 bench", "09:00 K-202 spray", "11:30"),
  pen.claim("Tue 08:58", "hollis at the tablet", "mask-knots"),
  ...shift(
    pen,
    "hollis at the tablet",
    "Tue",
    "09:00 K-202 bench mask-knots",
    "10:37 K-208 bench sand-nightstands",
    "13:07",
  ),
  pen.stage("Tue 09:02", "fern", "K-202", "prep", "finish", "tasks-open"),
  pen.carry("Tue 09:02", "fern", "K-202", "spray"),
  pen.finish("Tue 09:15", "hollis at the tablet", "mask-knots"),
  pen.stage("Tue 09:16", "fern", "K-202", "prep", "finish"),
  pen.read("Tue 09:18", "fern", "spray", true),
  ...pen.coat("Tue 09:30", "fern", "K-202", { coat: "1 PR", room: "spray", minutes: 10 }),
  ...pen.coat("Tue 11:10", "fern", "K-202", { coat: "2 W1", room: "spray", minutes: 8 }),

  ...shift(pen, "sable", "Tue", "09:30 K-203 bench", "10:30"),
  pen.stage("Tue 09:40", "sable", "K-203", "prep", "finish"),
  ...pen.coat("Tue 10:00", "sable", "K-203", { coat: "1 O2", room: "loft", minutes: 15, can: "O2-1" }),
  ...pen.closeRags("Tue 10:25", "sable", "K-203", "1 O2", "water-can"),

  pen.claim("Tue 10:36", "hollis at the tablet", "sand-nightstands"),
  // painted, and nobody knows when: no dry sanding
  pen.claim("Tue 11:15", "hollis at the tablet", "sand-chest", { expect: "lead-locked" }),
  pen.finish("Tue 13:05", "hollis at the tablet", "sand-nightstands"),

  ...shift(pen, "sable", "Tue", "11:45 K-201 photo", "12:40"),
  pen.write("Tue 12:35", "sable", "keep-promise", { promiseId: promiseIdOf("K-201 photos") }),

  ...shift(pen, "fern", "Tue", "13:30 K-208 bench", "15:15 K-205 bench", "17:50"),
  pen.task("Tue 17:30", "fern", "read-patch", {
    piece: "K-205",
    title: "Read the patch: is it still pale?",
    sort: "inspect",
    dueAt: pen.clock.at("Wed 17:30"),
  }),
  pen.test(
    "Tue 17:30",
    "fern",
    "K-205",
    pen.surface("K-205", "body"),
    "bleed-patch",
    "pending",
    "10 cm of pale W1, no barrier",
  ),
  pen.carry("Tue 18:00", "fern", "K-202", "loft"),

  // one morning in the spray room, wanted twice; Sable's phone has had no signal since three
  pen.task("Tue 14:50", "fern", "booth-wed-am", { title: "Spray room, Wednesday morning", sort: "other" }),
  pen.task("Tue 14:50", "fern", "booth-wed-pm", { title: "Spray room, Wednesday afternoon", sort: "other" }),
  pen.claim("Tue 17:40", "sable", "booth-wed-am", {
    expect: "claimed-while-apart",
    arrivesAt: pen.clock.at("Wed 07:30"),
  }),
  pen.claim("Tue 18:05", "fern", "booth-wed-am"),

  pen.write("Tue 19:30", "rufus", "start-timer", forgottenTimer(pen)),
  pen.test("Tue 19:40", "rufus", "K-206", { of: "paint-layer", layer: "first, white" }, "lead-swab", "pass"),
  pen.test(
    "Tue 19:40",
    "rufus",
    "K-206",
    { of: "paint-layer", layer: "second, green" },
    "lead-swab",
    "fail",
    "turned red at once",
  ),
  pen.claim("Tue 19:50", "rufus", "glue-34"),
  pen.joint("Tue 21:00", "rufus", "K-204", "Seat rails, chair 3", { room: "loft", task: "glue-34" }),
  pen.joint("Tue 21:00", "rufus", "K-204", "Seat rails, chair 4", { room: "loft", task: "glue-34" }),
  pen.finish("Tue 21:00", "rufus", "glue-34"),
  pen.release("Tue 22:20", "rufus", "K-204", "Seat rails, chair 3"),
  pen.release("Tue 22:20", "rufus", "K-204", "Seat rails, chair 4"),
  pen.finish("Tue 22:20", "rufus", "clamps-34"),
  pen.read("Tue 22:58", "rufus", "loft"),
];

const forgottenTimer = ({ clock }: Pen) => ({
  entryId: entryIdOf(clock, "rufus", "Tue 19:30"),
  subjects: [{ pieceId: pieceIdOf("K-204"), taskId: taskIdOf("glue-34") }],
  workKind: "bench",
});
