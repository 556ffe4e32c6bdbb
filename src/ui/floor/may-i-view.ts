import type { GateAction } from "~/core/cure/demand";
import { gate, recoatFilmGate } from "~/core/cure/gate";
import type { Gate } from "~/core/cure/gate-answer";
import type { Picture } from "~/core/cure/picture";
import type { InstantMs } from "~/core/units";
import type { GlyphState } from "~/ui/kit/glyph";
import type { MayIGate } from "~/ui/kit/may-i";
import { byWordWords, filmMoment, gateMoment, jointWords, productName } from "./gate-words";

type Asked = { words: string; glyph: GlyphState; asked: GateAction };

/** Next coats, one line a product: where several surfaces wait for the same one, the last of them answers. */
function recoatsAsked(picture: Picture): { sheetId: string; asked: Extract<GateAction, { action: "recoat" }>[] }[] {
  const bySheetId = new Map<string, Extract<GateAction, { action: "recoat" }>[]>();
  for (const surface of picture.surfaces) {
    const next = picture.coats
      .filter((coat) => coat.surfaceId === surface.id && coat.state === "planned")
      .sort((one, other) => one.position - other.position)[0];
    if (!next) continue;
    const asked = { action: "recoat" as const, surfaceId: surface.id, sheetId: next.sheetId };
    bySheetId.set(next.sheetId, [...(bySheetId.get(next.sheetId) ?? []), asked]);
  }
  return [...bySheetId].map(([sheetId, asked]) => ({ sheetId, asked }));
}

/** What stands in the way of a gate that has no time. */
export function noTimeWords(found: Gate): string {
  if (found.state === "shut-for-good") return "not by waiting";
  if (found.needs.some(({ kind }) => kind === "test-says-no")) return "a test says no";
  const joint = jointWords(found);
  if (joint) return joint;
  if (found.needs.some(({ kind }) => kind === "wood-wet")) return "the wood is wet";
  if (found.needs.some(({ kind }) => kind === "bleed")) return "it may bleed through";
  if (found.needs.some(({ kind }) => kind === "ignition")) return "a flame is near";
  if (found.needs.some(({ kind }) => kind === "wipe")) return "wipe it first";
  if (found.needs.some(({ kind }) => kind === "reading")) return "read the room";
  if (found.needs.some(({ kind }) => kind === "below-minimum")) return "too cold here";
  if (found.needs.some(({ kind }) => kind === "air")) return "not in this air";
  return "not known yet";
}

function mayIGate(
  picture: Picture,
  words: string,
  glyph: GlyphState,
  found: Gate,
  now: InstantMs,
  zone: string,
): MayIGate {
  if (found.state === "open") {
    const by = byWordWords(picture, found, now, zone);
    return {
      gate: words,
      glyph,
      form: "open",
      since: found.sinceAt === undefined ? "long ago" : filmMoment(found.sinceAt, now, zone),
      ...(by !== undefined && { by }),
    };
  }
  if (found.safeAt === undefined || found.safeAt <= now)
    return { gate: words, glyph, form: "never", word: noTimeWords(found) };
  return { gate: words, glyph, form: "waiting", time: gateMoment(found, found.safeAt, now, zone) };
}

/** Of several gates, the one that opens last. */
const latest = (gates: Gate[]): Gate | undefined =>
  gates.reduce<Gate | undefined>((held, found) => {
    if (!held || held.state === "open") return found;
    if (found.state === "open") return held;
    return (found.safeAt ?? Number.POSITIVE_INFINITY) > (held.safeAt ?? Number.POSITIVE_INFINITY) ? found : held;
  }, undefined);

/** Every act on a piece in the order in which a film allows them. */
export function mayIView(picture: Picture, now: InstantMs, zone: string): MayIGate[] {
  const plain: Asked[] = [
    { words: "Touch", glyph: "tack-free", asked: { action: "touch" } },
    { words: "Carry on a stand", glyph: "tack-free", asked: { action: "move", carried: "bearers" } },
    { words: "Handle", glyph: "handle", asked: { action: "move", carried: "hands" } },
    { words: "Press together", glyph: "press", asked: { action: "press-together" } },
    { words: "Wrap, loose", glyph: "wrap", asked: { action: "wrap", wrap: "loose-blanket", isStrapped: false } },
    { words: "Wrap, strapped", glyph: "wrap", asked: { action: "wrap", wrap: "snug-blanket", isStrapped: true } },
    { words: "Wrap, plastic", glyph: "wrap", asked: { action: "wrap", wrap: "plastic", isStrapped: true } },
    { words: "Full cure", glyph: "cured", asked: { action: "use", how: "full" } },
  ];
  const lines = plain.map(({ words, glyph, asked }) =>
    mayIGate(picture, words, glyph, gate(picture, asked, now), now, zone),
  );
  const recoats = recoatsAsked(picture).flatMap(({ sheetId, asked }) => {
    const film = latest(asked.map((one) => recoatFilmGate(picture, one, now)));
    const whole = latest(asked.map((one) => gate(picture, one, now)));
    // while the film itself is shut, its own time is what one waits for; the air is another matter
    const found = film?.state === "open" ? whole : film;
    return found ? [mayIGate(picture, `Recoat, ${productName(picture, sheetId)}`, "recoat", found, now, zone)] : [];
  });
  return [...lines.slice(0, 2), ...recoats, ...lines.slice(2)];
}
