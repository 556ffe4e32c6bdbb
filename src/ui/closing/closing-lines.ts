/** One line for each thing that must not be left: what it is, whose, and what answers it. */
import { shopDayAt } from "~/core/calendar";
import type { ClosingPoint, StillOpen } from "~/core/safety/closing";
import { glueHoldMs } from "~/core/safety/cold-glue";
import type { Facts } from "~/core/shop/facts";
import type { Coat, Room, TimeEntry } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { celsius, clockTime, duration, moment } from "~/ui/format";
import { listed } from "~/ui/trade-words";
import { anyFlame, flameKey, type SaidByKey } from "./closing-said";

export type ClosingLine = {
  /** What an answer to it is filed under. */
  key: string;
  point: ClosingPoint;
  title: string;
  detail?: string;
};

/** What answers a line: words for the rules, and what else it needs. */
export type TodoLine = ClosingLine & {
  taskId?: string;
  coatIds?: string[];
  entryId?: string;
  /** The reason that is at hand for leaving it. */
  leaveWhy?: string;
  /** Nothing lets it be left. */
  isNeverLeft?: boolean;
};

export type Here = { facts: Facts; now: InstantMs; zone: string; memberId: string; said: SaidByKey; waiting: number };

const tagOf = (facts: Facts, pieceId: string | undefined) =>
  pieceId ? facts.get("piece", pieceId)?.number : undefined;
const productOf = (facts: Facts, coat: Coat | undefined) => {
  const sheet = coat && facts.get("sheet", coat.sheetId);
  return sheet && facts.get("product", sheet.productId)?.name;
};
const parts = (...words: (string | undefined | false)[]) => words.filter(Boolean).join(" · ");

/** All that somebody has to see to or to answer, worst first. */
export const todoLines = (here: Here, open: StillOpen): TodoLine[] => [
  ...ragLines(here, open),
  ...flameLines(here, open),
  heaterLine(here),
  ...wipeLines(here, open),
  ...glueLines(here, open),
  ...timerLines(here, open),
  ...unsentLine(here),
];

/** One for every coat, each with its own two safe ends. */
const ragLines = ({ facts, now, zone }: Here, { rags }: StillOpen): TodoLine[] =>
  rags.map((task) => {
    const coat = task.coatId ? facts.get("coat", task.coatId) : undefined;
    const by = coat?.applied?.by.flatMap((id) => facts.get("member", id)?.name ?? []) ?? [];
    const due = task.dueAt !== undefined && `due ${moment(task.dueAt, now, zone)}`;
    const tag = tagOf(facts, task.pieceId);
    return {
      key: `rags:${task.id}`,
      point: "rags",
      taskId: task.id,
      title: `Oily rags${tag ? ` of ${tag}` : ""}`,
      detail: parts(productOf(facts, coat), by.length > 0 && `laid by ${listed(by)}`, due),
      isNeverLeft: true,
    };
  });

const flameLines = ({ facts }: Here, open: StillOpen): TodoLine[] =>
  open.flameRooms.length === 0
    ? [{ key: anyFlame, point: "flames", title: "Does anything burn?", detail: "Torches, candles, pilot lights" }]
    : open.flameRooms.map((room) => {
        const isInVapour = open.vapourRooms.includes(room);
        return {
          key: flameKey(room.id),
          point: "flames",
          title: `Flame in the ${room.name.toLowerCase()}`,
          detail: isInVapour
            ? `Solvent was laid here: ${listed(solventTags(facts, room))}. It must be out`
            : "Is it out?",
          isNeverLeft: isInVapour,
        };
      });

const solventTags = (facts: Facts, room: Room): string[] => [
  ...new Set(
    facts
      .all("coat")
      .filter((coat) => coat.applied?.roomId === room.id)
      .flatMap((coat) => tagOf(facts, coat.pieceId) ?? []),
  ),
];

/** Rooms whose pieces still cure are named: a heater may have to stay on for them. */
function heaterLine({ facts, now }: Here): TodoLine {
  const inHold = facts.all("joint").filter((joint) => now < joint.gluedAt + glueHoldMs && joint.verdict === undefined);
  const glued = new Set(inHold.map((joint) => joint.pieceId));
  const curing = facts.all("piece").filter((piece) => {
    const room = facts.get("room", piece.roomId);
    if (!room || room.uses.includes("away")) return false;
    return piece.stage === "finish" || piece.stage === "cure" || glued.has(piece.id);
  });
  const tags = curing.map((piece) => piece.number);
  const rooms = [...new Set(curing.map((piece) => (facts.get("room", piece.roomId) as Room).name.toLowerCase()))];
  if (tags.length === 0)
    return { key: "heater", point: "heater", title: "Heaters", detail: "Nothing here needs warmth" };
  return {
    key: "heater",
    point: "heater",
    title: "Heaters",
    detail: `${listed(tags)} ${tags.length === 1 ? "cures" : "cure"} in the ${listed(rooms)}`,
    leaveWhy: `Keeps ${listed(tags)} warm overnight`,
  };
}

/** Grouped by piece: one hand wipes them all. */
function wipeLines({ facts }: Here, { wipes }: StillOpen): TodoLine[] {
  if (wipes.length === 0) return [];
  const tags = [...new Set(wipes.flatMap((coat) => tagOf(facts, coat.pieceId) ?? []))];
  const surfaces = wipes.flatMap((coat) => facts.get("surface", coat.surfaceId)?.name.toLowerCase() ?? []);
  return [
    {
      key: "wipes",
      point: "wipes",
      coatIds: wipes.map((coat) => coat.id),
      title: `Wipe back ${listed(tags)}`,
      detail: parts(listed([...new Set(surfaces)]), productOf(facts, wipes[0])),
    },
  ];
}

function glueLines({ facts, now, zone }: Here, { coldGlue }: StillOpen): TodoLine[] {
  const [first] = coldGlue;
  if (!first) return [];
  const room = facts.get("room", first.roomId)?.name.toLowerCase() ?? "room";
  const tags = [...new Set(coldGlue.flatMap(({ joint }) => tagOf(facts, joint.pieceId) ?? []))];
  const names = coldGlue.map(({ joint }) => joint.name.toLowerCase());
  const low = `${celsius(first.lowCelsius)} by ${moment(first.coldAt, now, zone)}, glue holds from ${celsius(first.chalkCelsius)}`;
  return [
    {
      key: "cold-glue",
      point: "cold-glue",
      title: `Glue in the cold: ${listed(tags)}`,
      detail: parts(listed(names), `${room} ${low}`),
    },
  ];
}

function timerLines({ facts, now, zone, memberId }: Here, { timers }: StillOpen): TodoLine[] {
  const mine = timers.find((entry) => entry.memberId === memberId);
  const others = timers.filter((entry) => entry.memberId !== memberId);
  const tagsOf = (entry: TimeEntry) => entry.subjects.flatMap((subject) => tagOf(facts, subject.pieceId) ?? []);
  const name = (entry: TimeEntry) => facts.get("member", entry.memberId)?.name ?? "Somebody";
  return [
    ...(mine
      ? [
          {
            key: "my-timer",
            point: "timers" as const,
            entryId: mine.id,
            title: "Your timer still runs",
            detail: parts(
              `since ${moment(mine.startedAt, now, zone)}`,
              duration((now - mine.startedAt) / 1000),
              listed(tagsOf(mine)),
            ),
            isNeverLeft: true,
          },
        ]
      : []),
    ...(others.length > 0
      ? [
          {
            key: "timers",
            point: "timers" as const,
            title: `${listed(others.map(name))} still ${others.length === 1 ? "has a timer" : "have timers"} running`,
            detail: listed(
              others.map((entry) => parts(`since ${moment(entry.startedAt, now, zone)}`, ...tagsOf(entry))),
            ),
          },
        ]
      : []),
  ];
}

const unsentLine = ({ waiting }: Here): TodoLine[] =>
  waiting === 0
    ? []
    : [
        {
          key: "unsent",
          point: "unsent",
          title: `${waiting === 1 ? "One change" : `${waiting} changes`} only on this device`,
          detail: "They go by themselves once there is signal",
          leaveWhy: "No signal",
        },
      ];

/** A line that somebody has seen to be right. */
export const seenWords = (line: TodoLine): Pick<ClosingLine, "title" | "detail"> =>
  line.point === "heater"
    ? { title: "Heaters are off", detail: undefined }
    : { title: line.key === anyFlame ? "Nothing burns" : `${line.title}: out`, detail: undefined };

/** What is in order without anybody's saying so. */
export function quietLines({ facts, waiting, now, zone }: Here, open: StillOpen): ClosingLine[] {
  const lines: ClosingLine[] = [];
  if (open.rags.length === 0)
    lines.push({ key: "rags", point: "rags", title: "No oily rags open", detail: lastRags(facts, now, zone) });
  if (open.wipes.length === 0) lines.push({ key: "wipes", point: "wipes", title: "Nothing to wipe back" });
  if (open.coldGlue.length === 0) lines.push({ key: "cold-glue", point: "cold-glue", title: "No glue in the cold" });
  if (open.timers.length === 0) lines.push({ key: "timers", point: "timers", title: "No timer runs" });
  if (waiting === 0) lines.push({ key: "unsent", point: "unsent", title: "All is sent" });
  return lines;
}

const endWords: Record<string, string> = { "flat-outdoors": "flat outdoors", "water-can": "under water" };

/** The last that were put away today: where they lie, and who says so. */
function lastRags(facts: Facts, now: InstantMs, zone: string): string | undefined {
  const today = shopDayAt(now, zone);
  const done = facts
    .all("task")
    .filter((task) => task.sort === "close-out" && task.finished && shopDayAt(task.finished.at, zone) === today)
    .sort((one, other) => (other.finished?.at ?? 0) - (one.finished?.at ?? 0))[0];
  if (!done?.finished) return undefined;
  const { at, by, how } = done.finished;
  const name = facts.get("member", by)?.name;
  return parts(tagOf(facts, done.pieceId), endWords[how ?? ""], name && `${name} ${clockTime(at, zone)}`);
}
