import { shift } from "../hours";
import { type Pen, promiseIdOf } from "../pen";
import { pieceIdOf } from "../pieces";
import type { Line } from "../script";

/** Blocker under the pale desk, a sideboard sold a day before its price drops, and a buyer who would come too early. */
export function friday(pen: Pen): Line[] {
  const { clock, write } = pen;
  return [
    pen.read("Fri 07:45", "fern", "loft"),
    ...shift(pen, "fern", "Fri", "08:15 K-205 spray", "11:30"),
    // lacquer never lies face to face: paper between
    pen.press("Fri 08:30", "fern", "K-208", "paper"),
    pen.stage("Fri 08:30", "fern", "K-205", "prep", "finish"),
    pen.carry("Fri 08:30", "fern", "K-205", "spray"),
    pen.stage("Fri 08:30", "fern", "K-204", "repair", "prep"),
    pen.task("Fri 08:30", "fern", "sand-chairs", {
      piece: "K-204",
      title: "Sand the chairs, 180 then 220, with the grain",
      sort: "prep",
      methods: ["dry-sand"],
      estimateMin: 480,
    }),
    pen.read("Fri 08:45", "fern", "spray", true),
    pen.claim("Fri 08:53", "hollis at the tablet", "sand-chairs"),
    ...shift(pen, "hollis at the tablet", "Fri", "08:53 K-204 bench sand-chairs", "13:00"),
    ...pen.coat("Fri 09:00", "fern", "K-205", { coat: "1 PR", room: "spray", minutes: 10 }),
    ...pen.coat("Fri 11:00", "fern", "K-205", { coat: "2 W1", room: "spray", minutes: 20 }),

    ...shift(pen, "sable", "Fri", "10:00 K-202 photo", "11:00 K-209 selling", "11:40"),
    write("Fri 10:55", "sable", "keep-promise", { promiseId: promiseIdOf("K-202 photos on Friday") }),
    pen.stage("Fri 11:20", "sable", "K-209", "listed", "sold"),
    ...shift(pen, "sable", "Fri", "14:00 K-208 selling", "14:30"),
    pen.archive("Fri 11:45", "sable", "K-209", "Sold at the outlet on day 29"),

    // on Saturday at ten the lacquer would have 44 of the 48 hours that straps want
    write("Fri 14:10", "sable", "drop-promise", {
      promiseId: promiseIdOf("K-208"),
      why: "Four hours too early for straps; the buyer takes a delivery at five instead",
    }),
    write("Fri 14:10", "sable", "promise", {
      promiseId: promiseIdOf("K-208 delivery"),
      pieceId: pieceIdOf("K-208"),
      sort: "delivery",
      toWhom: "buyer",
      due: { at: clock.at("Sat 17:00") },
      why: "In paper, blankets and straps once they may be strapped",
    }),

    ...shift(pen, "fern", "Fri", "13:00 K-207 bench", "16:30 shop clean-up", "17:30"),
    pen.task("Fri 16:40", "fern", "decide-chest", {
      piece: "K-206",
      title: "Decide: sell as found and say so, or strip wet outdoors; nobody sands",
      sort: "other",
      dueAt: clock.at("Sun 18:00"),
    }),
    pen.carry("Fri 18:00", "fern", "K-205", "loft"),
  ];
}
