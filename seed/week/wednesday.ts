import { plan } from "../arrivals";
import { entryIdOf, shift } from "../hours";
import type { Pen } from "../pen";
import type { Line } from "../script";

/** The morning after the heater tripped: who is hit, who sprays, and how long did Rufus work? */
export const wednesday = (pen: Pen): Line[] => [
  // four hours after gluing the loft was cold: one tap, and each of the two chairs is somebody's to look at
  pen.inspect("Wed 06:55", "fern", "K-204", ["Seat rails, chair 3", "Seat rails, chair 4"]),
  pen.task("Wed 06:55", "fern", "loft-fuse", { title: "Put the loft's heater on a fuse of its own", sort: "other" }),
  pen.write("Wed 07:45", "rufus", "correct-entry", {
    entryId: entryIdOf(pen.clock, "rufus", "Tue 19:30"),
    endedAt: pen.clock.at("Tue 23:00"),
    why: "Forgot to stop; left at eleven",
  }),
  pen.read("Wed 07:50", "fern", "spray"),
  ...shift(pen, "fern", "Wed", "08:00 shop overhead", "08:45 K-208 spray", "11:15 K-206 bench", "12:00"),
  pen.claim("Wed 08:10", "sable", "booth-wed-pm"),
  pen.stage("Wed 08:42", "fern", "K-208", "prep", "finish"),
  pen.carry("Wed 08:42", "fern", "K-208", "spray"),
  ...shift(pen, "hollis at the tablet", "Wed", "09:00 K-204 bench", "15:10 rest 30"),
  pen.read("Wed 09:05", "fern", "spray", true),
  // 2.9 m² twice, 89 µm wet, 55 % of it stays
  pen.mix("Wed 09:10", "fern", "nightstands", { code: "L1", can: "L1-1", room: "spray", millilitres: 940 }),
  ...pen.coat("Wed 09:30", "fern", "K-208", { coat: "1 L1", room: "spray", minutes: 15, mix: "nightstands" }),
  pen.read("Wed 10:42", "fern", "spray", true),
  ...pen.coat("Wed 11:00", "fern", "K-208", { coat: "2 L1", room: "spray", minutes: 15, mix: "nightstands" }),
  pen.stage("Wed 11:00", "fern", "K-208", "finish", "cure"),
  pen.finish("Wed 12:00", "fern", "booth-wed-am"),

  ...shift(pen, "sable", "Wed", "12:30 K-203 bench", "13:30"),
  ...pen.coat("Wed 13:00", "sable", "K-203", {
    coat: "2 O2",
    room: "loft",
    minutes: 15,
    isScuffed: true,
    can: "O2-1",
  }),
  ...pen.closeRags("Wed 13:20", "sable", "K-203", "2 O2", "water-can"),

  ...shift(pen, "fern", "Wed", "13:30 K-202 spray", "15:00 K-205 bench", "17:50"),
  pen.carry("Wed 13:40", "fern", "K-202", "spray"),
  ...pen.coat("Wed 14:30", "fern", "K-202", { coat: "3 W1", room: "spray", minutes: 30 }),
  pen.stage("Wed 14:30", "fern", "K-202", "finish", "cure"),
  pen.finish("Wed 15:00", "sable", "booth-wed-pm"),

  // pink after 24 hours: a stain blocker goes under the enamel
  pen.test("Wed 17:30", "fern", "K-205", pen.surface("K-205", "body"), "bleed-patch", "fail", "pink after 24 h"),
  pen.finish("Wed 17:30", "fern", "read-patch"),
  ...plan(pen, "Wed 17:30", "fern", "K-205", ["1 PR", "3 W1"], ["1 W1"]),

  pen.carry("Wed 18:00", "fern", "K-202", "loft"),
  pen.carry("Wed 18:00", "fern", "K-208", "loft"),
];
