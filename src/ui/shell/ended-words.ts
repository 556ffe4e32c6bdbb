/** What somebody whose place has ended reads on their own device: what still went to the shop, and what did not. */
import type { InstantMs } from "~/core/units";
import type { Delivered, Ended } from "~/device/pass-database";
import type { KeptIntent } from "~/device/queue-database";
import { moment } from "../format";
import { actWords } from "../more/act-words";

export type EndedWords = { title: string; sentences: string[]; delivered: string[] };

const count = (one: string, many: string, of: number): string => (of === 1 ? `One ${one}` : `${of} ${many}`);

/** Each thing once, with how many of it. */
function counted(delivered: readonly Delivered[]): string[] {
  const counts = new Map<string, number>();
  for (const { kind } of delivered) {
    const words = actWords[kind] ?? kind.replaceAll("-", " ");
    counts.set(words, (counts.get(words) ?? 0) + 1);
  }
  return [...counts].map(([words, times]) => (times === 1 ? words : `${words}, ${times} times`));
}

export function endedWords(
  { endedAt, untilAt, isOver, delivered }: Ended,
  kept: readonly KeptIntent[],
  now: InstantMs,
  zone: string,
): EndedWords {
  const waiting = kept.filter(({ state }) => state === "waiting").length;
  const refused = kept.length - waiting;
  const sentences = [`It ended ${moment(endedAt, now, zone)}. This device shows nothing of the shop any more.`];
  if (delivered.length > 0) {
    const [things, them] = [
      count("thing that you did", "things that you did", delivered.length),
      delivered.length === 1,
    ];
    sentences.push(
      `${things} before that ${them ? "was" : "were"} delivered. Each counts when the owner has said yes.`,
    );
  }
  if (refused > 0)
    sentences.push(
      `${count("thing", "things", refused)} ${refused === 1 ? "was" : "were"} not taken. Under More you read why.`,
    );
  if (waiting > 0 && isOver) {
    const words = count("thing", "things", waiting);
    sentences.push(
      `${words} can be delivered no more: that ended ${moment(untilAt, now, zone)}. Save the file under More.`,
    );
  } else if (waiting > 0) {
    const words = count("thing waits", "things wait", waiting);
    sentences.push(`${words} here, and can be delivered until ${moment(untilAt, now, zone)}.`);
  }
  if (delivered.length === 0 && refused === 0 && waiting === 0) sentences.push("Nothing was left here to deliver.");
  return { title: "Your place in this shop has ended", sentences, delivered: counted(delivered) };
}
