import { shift } from "../hours";
import { type Pen, promiseIdOf } from "../pen";
import { pairIdOf } from "../pieces";
import type { Line } from "../script";

/** The dresser's drawers go in, the table goes to its buyer, and Rufus takes the washstand. */
export function sunday(pen: Pen): Line[] {
  const { clock, write } = pen;
  const drawers = { of: "pair", pairId: pairIdOf("K-201") };
  return [
    // when the film is due, whatever the clocks did in the night
    pen.test(clock.filmAt("Sun 08:20"), "fern", "K-201", drawers, "paper-press", "pass", "paper slides, no mark"),
    pen.press(clock.filmAt("Sun 08:25"), "fern", "K-201", "none"),
    pen.stage(clock.filmAt("Sun 08:40"), "fern", "K-201", "cure", "listed"),
    ...shift(pen, "fern", "Sun", "08:40 K-207 spray", "09:45"),
    pen.carry("Sun 08:35", "fern", "K-207", "spray"),
    ...pen.coat("Sun 09:00", "fern", "K-207", { coat: "3 W2", room: "spray", minutes: 20 }),
    pen.stage("Sun 09:00", "fern", "K-207", "finish", "cure"),

    pen.stage("Sun 11:35", "sable", "K-203", "cure", "sold"),
    ...shift(pen, "sable", "Sun", "11:30 K-203 van", "12:45"),
    pen.carry("Sun 11:35", "sable", "K-203", "road", "hands"),
    write("Sun 12:00", "sable", "keep-promise", { promiseId: promiseIdOf("K-203") }),
    pen.archive("Sun 12:50", "sable", "K-203", "Delivered in a blanket, with the care card"),

    ...shift(pen, "rufus", "Sun", "17:00 K-210 bench rail-washstand", "18:30"),
    pen.claim("Sun 17:00", "rufus", "rail-washstand"),
    pen.stage("Sun 17:05", "rufus", "K-210", "acquisition", "repair"),
    pen.carry("Sun 18:00", "fern", "K-207", "loft"),
  ];
}
