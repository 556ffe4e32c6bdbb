/** The week before: the shop is founded, its shelf and its floor are filled, and a dresser gets its last coat. */
import { packetOfEach, packets } from "../air";
import { arrive } from "../arrivals";
import { countingCans } from "../cans";
import { zone } from "../clock";
import { type Pen, promiseIdOf } from "../pen";
import { gathering } from "../people";
import { pieceIdOf } from "../pieces";
import { stockingShelf } from "../products";
import { settingUpRooms } from "../rooms";
import type { Line } from "../script";

const standing = ["K-201", "K-202", "K-203", "K-204", "K-205", "K-206", "K-207", "K-208", "K-209"] as const;

export function weekBefore(pen: Pen): Line[] {
  const { clock, write } = pen;
  const saturdayAt = clock.at("Sat 00:00");
  const promised = (promise: string, number: (typeof standing)[number], sort: string, toWhom: string, due: object) => ({
    promiseId: promiseIdOf(promise),
    pieceId: pieceIdOf(number),
    sort,
    toWhom,
    due,
  });
  return [
    // five days of usual air in one file, then as they come: from Saturday on there are films that rest on it
    ...packetOfEach(pen, clock.startsAt, saturdayAt),
    ...packets(pen, saturdayAt, clock.endsAt),
    ...gathering(pen, zone),
    ...settingUpRooms(pen),
    ...stockingShelf(pen),
    ...countingCans(pen),
    ...standing.flatMap((number) => arrive(pen, "Mon 11:00", number === "K-209" ? "sable" : "fern", number)),
    write(
      "Tue 10:00",
      "sable",
      "promise",
      promised("K-202 photos", "K-202", "photos", "ourselves", { day: clock.day(10) }),
    ),
    write(
      "Tue 10:05",
      "sable",
      "promise",
      promised("K-203", "K-203", "delivery", "buyer", { at: clock.later(1).at("Sun 12:00") }),
    ),
    write("Tue 10:00", "sable", "promise", promised("K-205", "K-205", "delivery", "buyer", { day: clock.day(19) })),
    write("Tue 10:00", "sable", "promise", promised("K-207", "K-207", "delivery", "buyer", { day: clock.day(23) })),
    write(
      "Fri 16:00",
      "sable",
      "promise",
      promised("K-208", "K-208", "collection", "buyer", { at: clock.later(1).at("Sat 10:00") }),
    ),

    pen.stage("Sat 09:05", "fern", "K-201", "prep", "finish"),
    pen.carry("Sat 09:05", "fern", "K-201", "spray"),
    ...pen.coat("Sat 10:00", "fern", "K-201", { coat: "1 W1", room: "spray", minutes: 25 }),
    ...pen.coat("Sun 14:30", "fern", "K-201", { coat: "2 W1", room: "spray", minutes: 25 }),
    pen.stage("Sun 14:30", "fern", "K-201", "finish", "cure"),
    write(
      "Sun 16:00",
      "sable",
      "promise",
      promised("K-201 photos", "K-201", "photos", "ourselves", { day: clock.day(8) }),
    ),
    pen.carry("Sun 18:00", "fern", "K-201", "loft"),
  ];
}
