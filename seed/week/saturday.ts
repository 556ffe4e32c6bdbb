import { arrive } from "../arrivals";
import { entryIdOf, shift } from "../hours";
import { type Pen, promiseIdOf } from "../pen";
import { memberIdOf } from "../people";
import { pieceIdOf } from "../pieces";
import type { Line } from "../script";

const lot = ["K-210", "K-211", "K-212"] as const;

/** A lot of three comes in, a desk is enamelled, a bookcase is cleared at last, and two nightstands leave. */
export function saturday(pen: Pen): Line[] {
  const { clock, write } = pen;
  return [
    ...lot.flatMap((number) => arrive(pen, "Sat 08:40", "sable", number)),
    write("Sat 08:40", "sable", "add-entry", {
      entryId: entryIdOf(clock, "sable", "Sat 07:30"),
      memberId: memberIdOf("sable"),
      startedAt: clock.at("Sat 07:30"),
      endedAt: clock.at("Sat 08:30"),
      workKind: "buying",
      subjects: lot.map((number) => ({ pieceId: pieceIdOf(number) })),
    }),
    pen.read("Sat 07:45", "fern", "loft"),
    ...shift(pen, "fern", "Sat", "08:30 K-205 spray", "10:00"),
    pen.carry("Sat 08:35", "fern", "K-205", "spray"),
    ...shift(pen, "hollis at the tablet", "Sat", "09:00 K-204 bench sand-chairs", "13:00"),
    ...pen.coat("Sat 09:30", "fern", "K-205", { coat: "3 W1", room: "spray", minutes: 20 }),
    pen.stage("Sat 09:30", "fern", "K-205", "finish", "cure"),
    pen.finish("Sat 12:55", "hollis at the tablet", "sand-chairs"),
    ...tasksOfLot(pen),

    ...shift(pen, "fern", "Sat", "13:15 K-207 spray", "15:00 shop clean-up", "17:55"),
    pen.carry("Sat 13:30", "fern", "K-207", "spray"),
    ...pen.coat("Sat 14:00", "fern", "K-207", { coat: "2 W2", room: "spray", minutes: 25 }),
    pen.stage("Sat 14:00", "fern", "K-207", "finish", "cure", "coats-left"),

    ...shift(pen, "sable", "Sat", "15:45 K-208 selling", "16:15"),
    pen.stage("Sat 16:35", "sable", "K-208", "cure", "sold"),
    ...shift(pen, "sable", "Sat", "16:30 K-208 van", "18:40"),
    ...shift(pen, "hollis", "Sat", "16:30 K-208 van", "18:40"),
    pen.carry("Sat 16:35", "sable", "K-208", "road", "hands"),
    write("Sat 17:20", "sable", "keep-promise", { promiseId: promiseIdOf("K-208 delivery") }),
    pen.archive("Sat 18:45", "sable", "K-208", "Delivered in paper, blankets and straps"),

    pen.finish("Sat 17:45", "fern", "loft-fuse"),
    pen.carry("Sat 18:00", "fern", "K-205", "loft"),
    pen.carry("Sat 18:00", "fern", "K-207", "loft"),
  ];
}

/** What is free for whoever comes next. */
const tasksOfLot = (pen: Pen): Line[] => [
  pen.task("Sat 13:10", "sable", "rail-washstand", {
    piece: "K-210",
    title: "Glue the washstand's back rail",
    sort: "repair",
    methods: ["glue"],
    needsSkills: ["glue"],
    estimateMin: 60,
  }),
  pen.task("Sat 13:10", "sable", "stop-washstand", {
    piece: "K-210",
    title: "Fit a new drawer stop",
    sort: "repair",
    estimateMin: 30,
  }),
  pen.task("Sat 13:10", "sable", "stretchers-stool", {
    piece: "K-211",
    title: "Tighten the stool's stretchers",
    sort: "repair",
    methods: ["glue"],
    needsSkills: ["glue"],
    estimateMin: 45,
  }),
  pen.task("Sat 13:10", "sable", "sand-stool", {
    piece: "K-211",
    title: "Sand the stool, 150 then 180",
    sort: "prep",
    methods: ["dry-sand"],
    estimateMin: 60,
  }),
  pen.task("Sat 13:10", "sable", "chip-frame", {
    piece: "K-212",
    title: "Fill the chip in the lower corner",
    sort: "repair",
    methods: ["fill"],
    estimateMin: 20,
  }),
  pen.task("Sat 13:10", "sable", "clean-frame", {
    piece: "K-212",
    title: "Clean the frame and take the glass out",
    sort: "prep",
    methods: ["clean"],
    estimateMin: 40,
  }),
  pen.task("Sat 13:10", "sable", "doors-wardrobe", {
    piece: "K-202",
    title: "Hang the wardrobe's doors and close them",
    sort: "other",
    needsSkills: ["lift"],
    estimateMin: 45,
  }),
];
