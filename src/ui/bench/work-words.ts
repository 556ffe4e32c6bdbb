import type { skills } from "~/core/shop/entities/people";
import type { splitRules, workKinds } from "~/core/shop/entities/work";
import type { Facts } from "~/core/shop/facts";
import type { TimeEntry } from "~/core/shop/tables";
import { listed } from "~/ui/trade-words";

export type WorkKind = (typeof workKinds)[number];
export type SplitRule = (typeof splitRules)[number];
export type Skill = (typeof skills)[number];

export const workKindWords: Record<WorkKind, string> = {
  bench: "Bench work",
  spray: "Spraying",
  "set-up": "Setting up",
  "clean-up": "Cleaning up",
  van: "Van",
  buying: "Buying",
  photo: "Photos",
  selling: "Selling",
  overhead: "For the shop",
};

export const workKindChoices = (Object.keys(workKindWords) as WorkKind[]).map((id) => ({
  id,
  words: workKindWords[id],
}));

/** How one stretch of work is shared out over several pieces. Shares typed by hand are the office's. */
export const splitChoices: { id: Exclude<SplitRule, "one" | "typed">; words: string; detail: string }[] = [
  { id: "equal", words: "Equally", detail: "a van run, carrying" },
  { id: "area", words: "By area", detail: "sanding, washing" },
  { id: "coats", words: "By coats laid", detail: "a spray session" },
];

export const skillWords: Record<Skill, string> = {
  spray: "spraying",
  brush: "brushing",
  glue: "gluing",
  veneer: "veneering",
  strip: "stripping",
  drive: "driving",
  lift: "lifting",
};

export type SubjectsShown = { tag?: string; href?: string; what: string };

/** What a stretch of work is on: one piece hangs its tag, several are named, none is time for the shop. */
export function subjectsShown(facts: Facts, entry: Pick<TimeEntry, "subjects" | "workKind">): SubjectsShown {
  const [first, ...more] = entry.subjects;
  const kind = workKindWords[entry.workKind].toLowerCase();
  if (!first) return { what: kind };
  const numbers = entry.subjects.map((subject) => facts.get("piece", subject.pieceId)?.number ?? "a piece");
  if (more.length > 0) return { what: `${kind} · ${listed([...new Set(numbers)])}` };
  const title = first.taskId ? facts.get("task", first.taskId)?.title : undefined;
  return { tag: numbers[0], href: `/piece?id=${first.pieceId}`, what: [first.stage, title ?? kind].join(" · ") };
}
