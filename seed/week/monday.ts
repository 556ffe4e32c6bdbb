import { oldOilCan } from "../cans";
import { rainForetold } from "../forecasts";
import { shift } from "../hours";
import { type Pen, promiseIdOf } from "../pen";
import { pieceIdOf } from "../pieces";
import type { Line } from "../script";

/** Colour on the bookcase, a date for the dresser, and chairs that change hands. */
export function monday(pen: Pen): Line[] {
  const { clock, write } = pen;
  const outlet = {
    promiseId: promiseIdOf("K-201 outlet"),
    pieceId: pieceIdOf("K-201"),
    sort: "outlet",
    toWhom: "outlet",
  };
  return [
    pen.read("Mon 07:45", "fern", "spray"),
    pen.read("Mon 07:45", "fern", "loft"),
    rainForetold(pen, "Mon 07:50", clock, "Thu"),
    ...oldOilCan(pen),
    ...shift(pen, "fern", "Mon", "08:00 K-207 bench", "09:30 K-207 spray", "10:30 K-203 bench", "12:00"),
    ...pen.coat("Mon 10:00", "fern", "K-207", { coat: "1 O1", room: "loft", minutes: 25 }),
    ...pen.closeRags("Mon 10:20", "fern", "K-207", "1 O1", "flat-outdoors"),

    ...shift(pen, "sable", "Mon", "10:30 K-201 selling", "11:45"),
    // drawers in on Saturday would print: the dresser is promised for Monday, a day in hand
    write("Mon 11:00", "sable", "promise", { ...outlet, due: { day: clock.day(5) } }, { expect: "promise-too-early" }),
    write("Mon 11:03", "sable", "promise", { ...outlet, due: { day: clock.day(7) } }),

    ...shift(pen, "fern", "Mon", "13:00 K-203 bench", "15:00 K-202 bench", "17:30"),
    pen.task("Mon 13:30", "fern", "sand-nightstands", {
      piece: "K-208",
      title: "Sand both nightstands, 180 then 220",
      sort: "prep",
      methods: ["dry-sand"],
      estimateMin: 150,
    }),
    pen.task("Mon 13:30", "fern", "mask-knots", {
      piece: "K-202",
      title: "Mask the hinges and mark the knots",
      sort: "prep",
      methods: ["mask"],
      estimateMin: 60,
    }),
    pen.task("Mon 13:30", "fern", "sand-chest", {
      piece: "K-206",
      title: "Sand the chest back for new paint",
      sort: "prep",
      methods: ["dry-sand"],
      estimateMin: 180,
    }),
    pen.task("Mon 13:30", "fern", "runners-nightstands", {
      piece: "K-208",
      title: "Wax and true the drawer runners",
      sort: "repair",
      estimateMin: 90,
    }),

    pen.task("Mon 16:30", "fern", "glue-12", {
      piece: "K-204",
      title: "Glue the seat rails of chairs 1 and 2",
      sort: "repair",
      methods: ["glue"],
      needsSkills: ["glue"],
      // an hour in clamps at 70 °F; at the loft's 18 °C 1.30 h, twice as long for every 15 °F colder. Invented sheet
      waitsMin: 78,
    }),
    pen.task("Mon 16:30", "fern", "clamps-12", {
      piece: "K-204",
      title: "Take the clamps off chairs 1 and 2",
      sort: "repair",
      after: ["glue-12"],
    }),
    pen.task("Mon 16:30", "fern", "glue-34", {
      piece: "K-204",
      title: "Glue the seat rails of chairs 3 and 4",
      sort: "repair",
      methods: ["glue"],
      needsSkills: ["glue"],
      waitsMin: 78,
    }),
    pen.task("Mon 16:30", "fern", "clamps-34", {
      piece: "K-204",
      title: "Take the clamps off chairs 3 and 4",
      sort: "repair",
      after: ["glue-34"],
    }),
    pen.claim("Mon 16:40", "fern", "glue-12"),
    pen.handOver("Mon 16:40", "fern", "glue-12", "rufus", "Seat rails loose on all four. Start with two."),

    ...shift(pen, "rufus", "Mon", "19:30 K-204 bench glue-12", "21:15 K-208 bench runners-nightstands", "22:45"),
    // the cold bay is below the glue's chalk point
    pen.read("Mon 20:28", "rufus", "coldBay"),
    pen.joint("Mon 20:30", "rufus", "K-204", "Seat rails, chair 1", { room: "coldBay", expect: "glue-too-cold" }),
    pen.carry("Mon 20:40", "rufus", "K-204", "loft", "hands"),
    pen.joint("Mon 20:45", "rufus", "K-204", "Seat rails, chair 1", { room: "loft", task: "glue-12" }),
    pen.joint("Mon 20:45", "rufus", "K-204", "Seat rails, chair 2", { room: "loft", task: "glue-12" }),
    pen.finish("Mon 20:45", "rufus", "glue-12"),
    pen.claim("Mon 21:15", "rufus", "runners-nightstands"),
    pen.claim("Mon 21:30", "rufus", "clamps-12", { expect: "task-waits" }),
    pen.claim("Mon 22:05", "rufus", "clamps-12"),
    pen.release("Mon 22:05", "rufus", "K-204", "Seat rails, chair 1"),
    pen.release("Mon 22:05", "rufus", "K-204", "Seat rails, chair 2"),
    pen.finish("Mon 22:05", "rufus", "clamps-12"),
    pen.finish("Mon 22:40", "rufus", "runners-nightstands"),
  ];
}
