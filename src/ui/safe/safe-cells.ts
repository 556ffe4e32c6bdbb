import type { GateAction } from "~/core/cure/demand";
import { gate } from "~/core/cure/gate";
import type { Gate } from "~/core/cure/gate-answer";
import type { Picture } from "~/core/cure/picture";
import type { InstantMs } from "~/core/units";
import type { GateCell } from "~/ui/kit/gate-cells";
import type { GlyphState } from "~/ui/kit/glyph";
import { filmMoment, giverOf } from "../floor/gate-words";
import { noTimeWords } from "../floor/may-i-view";

const wrapFrom = (picture: Picture, asked: Extract<GateAction, { action: "wrap" }>, at: InstantMs) =>
  gate(picture, asked, at);

/** The wrap that is open now, said by what it may not be; else when the loosest one opens. */
function wrapCell(picture: Picture, now: InstantMs, zone: string): GateCell {
  const [plastic, strapped, loose] = [
    wrapFrom(picture, { action: "wrap", wrap: "plastic", isStrapped: true }, now),
    wrapFrom(picture, { action: "wrap", wrap: "snug-blanket", isStrapped: true }, now),
    wrapFrom(picture, { action: "wrap", wrap: "loose-blanket", isStrapped: false }, now),
  ];
  const byWord = wordGiver(picture, strapped);
  if (byWord) return { gate: "wrap, strapped", glyph: "wrap", form: "yes", answer: byWord };
  if (plastic.state === "open") return { gate: "wrap", glyph: "wrap", form: "yes", answer: "yes" };
  if (strapped.state === "open") return { gate: "wrap, strapped", glyph: "wrap", form: "yes", answer: "no plastic" };
  if (loose.state === "open") return { gate: "wrap", glyph: "wrap", form: "yes", answer: "loose only" };
  return gateCell(picture, "wrap", "wrap", loose, now, zone);
}

/** "Fern’s word", where that is what opened a gate. */
function wordGiver(picture: Picture, { wordId }: Gate): string | undefined {
  const word = picture.words.find(({ id }) => id === wordId);
  return word && `${giverOf(picture, word)}’s word`;
}

function gateCell(
  picture: Picture,
  words: string,
  glyph: GlyphState,
  found: Gate,
  now: InstantMs,
  zone: string,
): GateCell {
  if (found.state === "open") return { gate: words, glyph, form: "yes", answer: wordGiver(picture, found) ?? "yes" };
  if (found.state === "shut-for-good") return { gate: words, glyph, form: "not", answer: "not for this" };
  if (found.safeAt === undefined || found.safeAt <= now)
    return { gate: words, glyph, form: "barred", answer: noTimeWords(found) };
  return { gate: words, glyph, form: "when", answer: filmMoment(found.safeAt, now, zone) };
}

/** May I, now: touch, handle, press together, wrap. */
export const safeCells = (picture: Picture, now: InstantMs, zone: string): GateCell[] => [
  gateCell(picture, "touch", "tack-free", gate(picture, { action: "touch" }, now), now, zone),
  gateCell(picture, "handle", "handle", gate(picture, { action: "move", carried: "hands" }, now), now, zone),
  gateCell(picture, "press together", "press", gate(picture, { action: "press-together" }, now), now, zone),
  wrapCell(picture, now, zone),
];
