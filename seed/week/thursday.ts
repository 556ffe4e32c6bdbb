import { dayEndAt } from "~/core/calendar";
import { zone } from "../clock";
import { shift } from "../hours";
import { jointIdOf, type Pen, promiseIdOf } from "../pen";
import type { Line } from "../script";

/** Rain: nothing is sprayed, the wardrobe's photos wait a day, and a chalky glue line comes apart. */
export function thursday(pen: Pen): Line[] {
  const { clock } = pen;
  return [
    pen.read("Thu 07:45", "fern", "loft"),
    pen.read("Thu 08:05", "fern", "spray", true),
    ...shift(pen, "fern", "Thu", "08:00 shop overhead", "08:15 K-204 bench", "12:00"),
    // solvent in such air would blush
    ...pen.coat("Thu 08:10", "fern", "K-204", {
      coat: "1 L1",
      room: "spray",
      minutes: 1,
      surfaces: ["chair 1"],
      expect: "air-unfit",
    }),
    ...shift(pen, "sable", "Thu", "09:00 K-208 photo", "09:45"),
    // 72 hours by the clock, but 40.6 of the 72 on the sheet; and the barrier instead is a solvent too
    ...pen.coat("Thu 10:00", "fern", "K-207", {
      coat: "2 W2",
      room: "loft",
      minutes: 1,
      surfaces: ["carcass"],
      expect: "gate-shut",
    }),
    ...pen.coat("Thu 10:00", "fern", "K-205", {
      coat: "1 PR",
      room: "spray",
      minutes: 1,
      surfaces: ["body"],
      expect: "air-unfit",
    }),
    pen.write("Thu 11:30", "sable", "move-promise", {
      promiseId: promiseIdOf("K-202 photos"),
      newPromiseId: promiseIdOf("K-202 photos on Friday"),
      due: { day: clock.day(4) },
      was: dayEndAt(clock.day(3), zone),
      why: "May be handled from Friday 05:15; no buyer waits for the photos",
    }),

    ...shift(pen, "fern", "Thu", "13:00 K-205 bench", "15:30 K-204 bench", "17:00"),
    ...shift(pen, "sable", "Thu", "14:30 K-203 bench", "15:45"),
    ...pen.coat("Thu 15:00", "sable", "K-203", {
      coat: "3 O2",
      room: "loft",
      minutes: 15,
      isScuffed: true,
      can: "O2-1",
    }),
    pen.stage("Thu 15:00", "sable", "K-203", "finish", "cure"),
    ...pen.closeRags("Thu 15:20", "sable", "K-203", "3 O2", "water-can"),
    // hard to the touch is not hard under pressure
    pen.press("Thu 16:00", "sable", "K-201", "none", "gate-shut"),

    ...shift(pen, "rufus", "Thu", "19:30 K-204 bench", "20:06 K-204 bench glue-34", "21:00 K-204 bench", "22:15"),
    pen.claimInspection("Thu 19:32", "rufus", "K-204", 0),
    pen.claimInspection("Thu 19:32", "rufus", "K-204", 1),
    pen.test("Thu 20:00", "rufus", "K-204", jointOf("Seat rails, chair 3"), "pull-or-tap", "pass"),
    // whose gluing is work again by that
    pen.test("Thu 20:04", "rufus", "K-204", jointOf("Seat rails, chair 4"), "chalk-look", "fail", "white and powdery"),
    pen.reopen("Thu 20:06", "rufus", "clamps-34", "heater: chair 4 is glued again"),
    pen.joint("Thu 20:50", "rufus", "K-204", "Seat rails, chair 4", { room: "loft", task: "glue-34", times: 2 }),
    pen.finish("Thu 20:50", "rufus", "glue-34"),
    pen.claim("Thu 22:12", "rufus", "clamps-34"),
    pen.release("Thu 22:12", "rufus", "K-204", "Seat rails, chair 4", 2),
    pen.finish("Thu 22:12", "rufus", "clamps-34"),
  ];
}

const jointOf = (joint: string) => ({ of: "joint", jointId: jointIdOf("K-204", joint) });
