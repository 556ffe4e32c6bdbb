import { addDays, shopDayAt } from "~/core/calendar";
import { gate } from "~/core/cure/gate";
import type { AskedGate } from "~/core/cure/next-gate";
import type { Picture } from "~/core/cure/picture";
import type { InstantMs } from "~/core/units";
import type { FilmProps } from "~/ui/kit/film";
import type { GateCell } from "~/ui/kit/gate-cells";
import type { GlyphState } from "~/ui/kit/glyph";
import { filmState, hasFilm } from "../floor/film-state";
import { filmView } from "../floor/film-view";
import { askedWords, byWordWords, earnedWords, filmMoment, gateMoment, heldByWords } from "../floor/gate-words";
import { lostWords } from "../floor/lost-words";
import { noTimeWords } from "../floor/may-i-view";
import type { Outlook } from "../floor/outlook";
import { filmSurfaceId } from "../floor/strip-view";
import { safeCells } from "./safe-cells";
import { carryOrder } from "./safe-order";

export type SafeSpan = "now" | "today" | "tomorrow" | "later" | "never";

export type SafePiece = {
  pieceId: string;
  tag: string;
  name: string;
  span: SafeSpan;
  /** For sorting within a span: what opens first comes first. */
  opensAt: number;
  /** May be gripped: the order and the four cells. */
  order?: string;
  cells?: GateCell[];
  /** Not now: the act, its time or its verb, and the film. */
  when?: { glyph: GlyphState; act: string; time: string; isBarred: boolean };
  film?: FilmProps;
  why: string;
  /** How it may be carried now, if at all. */
  carry?: "hands" | "bearers";
};

const sentence = (parts: (string | undefined | false)[]) =>
  parts.filter((part) => typeof part === "string" && part !== "").join(" ");

const spanOf = (at: InstantMs, now: InstantMs, zone: string): SafeSpan => {
  const [today, day] = [shopDayAt(now, zone), shopDayAt(at, zone)];
  if (day <= today) return "today";
  return day === addDays(today, 1) ? "tomorrow" : "later";
};

/** What the next gate is about, where the piece may not be gripped yet: the next coat if that opens first, else to handle it. */
function awaited({ next, recoatNow }: Outlook, picture: Picture, now: InstantMs): AskedGate {
  const asked = { action: "move", carried: "hands" } as const;
  const handle: AskedGate = { asked, gate: gate(picture, asked, now) };
  if (recoatNow[0]) return recoatNow[0];
  const isRecoatFirst = next?.asked.action === "recoat" && next.gate.safeAt !== undefined;
  return isRecoatFirst ? next : handle;
}

/** Where a piece stands for somebody in front of the rack: what may be done with it, and when not now, when. */
export function safeView(outlook: Outlook, now: InstantMs, zone: string): SafePiece {
  const { piece, picture, stuck } = outlook;
  const head = { pieceId: piece.id, tag: piece.number, name: piece.name };
  if (!picture) {
    const when = { glyph: "assumed", act: "Not known here", time: "By hand", isBarred: true } as const;
    return {
      ...head,
      span: "never",
      opensAt: 0,
      when,
      why: "This device does not carry enough of the air to say.",
    };
  }
  const mayCarryOnStand = gate(picture, { action: "move", carried: "bearers" }, now).state === "open";
  const handle = gate(picture, { action: "move", carried: "hands" }, now);
  const carry = handle.state === "open" ? "hands" : mayCarryOnStand ? "bearers" : undefined;
  const surfaceId = filmSurfaceId(outlook, now);
  const told = awaited(outlook, picture, now);
  const state = filmState(picture, now);
  const view = surfaceId ? filmView(picture, surfaceId, told.asked, now, zone, "film", state?.word ?? "") : undefined;
  const lost = view ? lostWords(view.shape.spans, picture, now, zone) : [];

  // what holds only the next coat or the next gate does not hold the hands
  const isLocked = stuck?.about === "lead" || stuck?.about === "inspect";
  if (handle.state === "open" && !isLocked) {
    const holds = outlook.next && heldByWords(picture, outlook.next.gate, now);
    return {
      ...head,
      span: "now",
      // what carries a film is what one asks about; bare pieces come after
      opensAt: handle.sinceAt ?? (hasFilm(picture, now) ? 0 : Number.MAX_SAFE_INTEGER),
      order: carryOrder(picture, now),
      ...(hasFilm(picture, now) && { cells: safeCells(picture, now, zone) }),
      why: sentence([
        ...spokenFor(outlook, picture, now, zone),
        holds && `Holds: ${holds}.`,
        nextCoat(outlook, picture, now, zone),
        ...lost,
      ]),
      ...(carry && { carry }),
    };
  }
  if (isLocked || told.gate.safeAt === undefined) {
    const words = stuck ?? { action: noTimeWords(told.gate), verb: "By hand", text: "" };
    const mayCarry =
      handle.state === "open"
        ? "It may be carried."
        : mayCarryOnStand
          ? "On a tray or stand it may be carried."
          : "Leave it where it is.";
    return {
      ...head,
      span: "never",
      opensAt: 0,
      when: { glyph: "barred", act: capital(words.action), time: words.verb, isBarred: true },
      ...(view && stuck?.about !== "lead" && { film: view.film }),
      why: sentence([words.text && `${words.text}.`, mayCarry, ...lost]),
      ...(carry && { carry }),
    };
  }
  return {
    ...head,
    ...laterView(told, picture, now, zone),
    ...(view && { film: view.film }),
    ...(carry && { carry }),
    why: laterWhy(told, picture, mayCarryOnStand, lost, now, zone),
  };
}

const keptByOutlook = new WeakMap<Outlook, SafePiece>();

/** As `safeView`, at the instant at which the outlook was asked; worked out once for each. */
export function safeViewHere(outlook: Outlook, zone: string): SafePiece {
  const view = keptByOutlook.get(outlook) ?? safeView(outlook, outlook.at, zone);
  keptByOutlook.set(outlook, view);
  return view;
}

function laterView(
  { asked, gate: found }: AskedGate,
  picture: Picture,
  now: InstantMs,
  zone: string,
): Pick<SafePiece, "span" | "opensAt" | "when"> {
  const state = filmState(picture, now);
  const needsScuff = found.needs.some(({ kind }) => kind === "scuff");
  const act =
    asked.action === "recoat"
      ? needsScuff
        ? "Scuff, recoat"
        : askedWords(asked, picture)
      : state?.glyph === "wet"
        ? "Wet. Hands off"
        : "Handle";
  const glyph: GlyphState = asked.action === "recoat" ? "recoat" : state?.glyph === "wet" ? "wet" : "handle";
  if (found.state === "open") return { span: "now", opensAt: now, when: { glyph, act, time: "now", isBarred: false } };
  const safeAt = found.safeAt as InstantMs;
  return {
    span: spanOf(safeAt, now, zone),
    opensAt: safeAt,
    when: { glyph, act, time: gateMoment(found, safeAt, now, zone), isBarred: false },
  };
}

function laterWhy(
  { gate: found }: AskedGate,
  picture: Picture,
  onStand: boolean,
  lost: string[],
  now: InstantMs,
  zone: string,
): string {
  const holds = heldByWords(picture, found, now);
  const [safe, likelyTime] = [found.safeAt, found.likelyAt].map(
    (at) => at !== undefined && gateMoment(found, at, now, zone),
  );
  const likely = found.state !== "open" && likelyTime && likelyTime !== safe && `Safe; likely ${likelyTime}.`;
  const earned = found.state !== "open" && earnedWords(found);
  return sentence([
    likely,
    holds && `Holds: ${holds}${earned ? `, ${earned}` : ""}.`,
    ...lost,
    onStand && "On a tray or stand it may be carried now.",
  ]);
}

/** What rests on somebody's word is said with it: it ends, and the film is softer than the answer. */
const spokenFor = ({ byWord }: Outlook, picture: Picture, now: InstantMs, zone: string): string[] =>
  byWord.flatMap(({ asked, gate: found }) => {
    const words = byWordWords(picture, found, now, zone);
    return words ? [`${askedWords(asked, picture)} ${words}.`] : [];
  });

/** A piece that may be carried may still wait for its next coat. */
function nextCoat({ next, recoatNow }: Outlook, picture: Picture, now: InstantMs, zone: string): string | undefined {
  const told = recoatNow[0] ?? next;
  if (told?.asked.action !== "recoat") return undefined;
  const act = askedWords(told.asked, picture);
  if (told.gate.state === "open") return `${act}: now.`;
  return told.gate.safeAt === undefined ? undefined : `${act}: ${filmMoment(told.gate.safeAt, now, zone)}.`;
}

const capital = (words: string) => `${words[0]?.toUpperCase() ?? ""}${words.slice(1)}`;

export const safeSpans: { id: SafeSpan; words: string; kind: "open" | "plain" | "never" }[] = [
  { id: "now", words: "Now", kind: "open" },
  { id: "today", words: "Later today", kind: "plain" },
  { id: "tomorrow", words: "Tomorrow", kind: "plain" },
  { id: "later", words: "After that", kind: "plain" },
  { id: "never", words: "Not by waiting", kind: "never" },
];
