import { arrive } from "../arrivals";
import { shift } from "../hours";
import type { Pen } from "../pen";
import type { Line } from "../script";

/** Thursday to Saturday of the week after: a side table comes in and is coloured, frame and stool get their last coats. */
export const laterDays = (pen: Pen): Line[] => [
  ...arrive(pen, "Wed 10:00", "sable", "K-213"),
  pen.task("Wed 10:10", "sable", "sand-side-table", {
    piece: "K-213",
    title: "Sand the side table, 120 then 180",
    sort: "prep",
    methods: ["dry-sand"],
    estimateMin: 90,
  }),
  pen.stage("Wed 10:10", "sable", "K-213", "acquisition", "prep"),

  pen.claim("Thu 09:00", "hollis at the tablet", "sand-side-table"),
  ...shift(pen, "hollis at the tablet", "Thu", "09:00 K-213 bench sand-side-table", "12:30"),
  pen.finish("Thu 12:25", "hollis at the tablet", "sand-side-table"),
  pen.stage("Thu 13:30", "fern", "K-213", "prep", "finish"),
  ...pen.coat("Thu 13:30", "fern", "K-213", { coat: "1 O1", room: "loft", minutes: 10, surfaces: ["base"] }),
  ...pen.closeRags("Thu 13:50", "fern", "K-213", "1 O1", "flat-outdoors", ["base"]),

  ...shift(pen, "sable", "Fri", "08:40 K-212 bench", "09:40"),
  ...pen.coat("Fri 09:00", "sable", "K-212", { coat: "3 O2", room: "loft", minutes: 10, isScuffed: true }),
  pen.stage("Fri 09:00", "sable", "K-212", "finish", "cure"),
  ...pen.closeRags("Fri 09:20", "sable", "K-212", "3 O2", "water-can"),
  ...pen.coat("Fri 13:30", "fern", "K-213", { coat: "1 O1", room: "loft", minutes: 10, surfaces: ["top"] }),
  ...pen.closeRags("Fri 13:50", "fern", "K-213", "1 O1", "flat-outdoors", ["top"]),
  pen.claim("Fri 19:35", "rufus", "rail-washstand"),

  pen.carry("Sat 09:35", "fern", "K-211", "spray"),
  ...pen.coat("Sat 10:00", "fern", "K-211", { coat: "3 W1", room: "spray", minutes: 15 }),
  pen.stage("Sat 10:00", "fern", "K-211", "finish", "cure"),
  pen.carry("Sat 18:00", "fern", "K-211", "loft"),
];
