/** The finish schedule of one surface, from the newest coat down to the wood. */
import { recoatFilmGate } from "~/core/cure/gate";
import { nextGate } from "~/core/cure/next-gate";
import { filmOn, type Picture } from "~/core/cure/picture";
import type { Facts } from "~/core/shop/facts";
import type { Coat, Surface } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { askedWords, gateTimeWords } from "~/ui/floor/gate-words";
import { celsius, humidity, moment } from "~/ui/format";
import { listed } from "~/ui/trade-words";

export type CoatLine = {
  coat: Coat;
  /** Its place, 1 at the wood. */
  number: number;
  product: string;
  state: string;
  /** "Wed 11:00 · Fern"; nothing before it lies. */
  when?: string;
  /** "19 °C · 48 %", where the air was read. */
  air?: string;
  wetFilm?: string;
  /** What opens next and when, said once for the surface, at the coat that decides it. */
  next?: string;
  /** Lies there, is still to come, or is gone. */
  standing: "laid" | "planned" | "gone";
};

const removedWords = { sanded: "sanded off", stripped: "stripped off", "wiped-off": "wiped off" };

function stateWords(coat: Coat, now: InstantMs, zone: string): string {
  if (coat.removed) return `${removedWords[coat.removed.how]} ${moment(coat.removed.at, now, zone)}`;
  switch (coat.state) {
    case "planned":
      return "planned";
    case "flawed":
      return `flaw: ${coat.flaw?.cause.replaceAll("-", " ") ?? "seen"}`;
    case "mended":
      return `${coat.flaw?.cause.replaceAll("-", " ") ?? "flaw"}, mended`;
    case "wiped":
      return coat.wiped ? `laid, wiped ${moment(coat.wiped.at, now, zone)}` : "laid, wiped";
    default:
      return "laid";
  }
}

const standingOf = (coat: Coat): CoatLine["standing"] =>
  coat.removed || coat.state === "removed" ? "gone" : coat.state === "planned" ? "planned" : "laid";

/** The air of the room when the coat went on, as it was last read; nothing where nobody had read it for an hour. */
function airAt(picture: Picture | undefined, roomId: string, at: InstantMs): string | undefined {
  const readings = picture?.airByRoomId.get(roomId)?.readings ?? [];
  const last = readings.findLast((reading) => reading.at <= at && reading.retractedAt === undefined);
  if (!last || at - last.at > 3_600_000) return undefined;
  return `${celsius(last.airCelsius)} ${humidity(last.humidityPercent)}`;
}

export function coatLines(
  facts: Facts,
  picture: Picture | undefined,
  surface: Surface,
  now: InstantMs,
  zone: string,
): CoatLine[] {
  const coats = facts
    .where("coat", "pieceId", surface.pieceId)
    .filter((coat) => coat.surfaceId === surface.id && coat.state !== "struck")
    .sort((one, other) => one.position - other.position);
  const nextByCoatId = picture ? nextWords(picture, surface, coats, now, zone) : new Map<string, string>();
  return coats
    .map((coat): CoatLine => {
      const sheet = facts.get("sheet", coat.sheetId);
      const { applied } = coat;
      const wetFilmMicrometres = applied?.wetFilmMicrometres ?? (applied ? undefined : coat.plannedWetFilmMicrometres);
      const by = applied?.by.map((id) => facts.get("member", id)?.name ?? "somebody");
      return {
        coat,
        number: coat.position,
        product: (sheet && facts.get("product", sheet.productId)?.name) ?? "a product",
        state: [stateWords(coat, now, zone), coat.barrierWhy && `barrier: ${coat.barrierWhy}`]
          .filter(Boolean)
          .join(" · "),
        when: applied && `${moment(applied.endedAt, now, zone)} · ${listed(by ?? [])}`,
        air: applied && airAt(picture, applied.roomId, applied.endedAt),
        wetFilm: wetFilmMicrometres === undefined ? undefined : `${wetFilmMicrometres} µm`,
        next: nextByCoatId.get(coat.id),
        standing: standingOf(coat),
      };
    })
    .reverse();
}

/** At the next planned coat, when it may go on; at the top coat, what its film opens next. */
function nextWords(
  picture: Picture,
  surface: Surface,
  coats: readonly Coat[],
  now: InstantMs,
  zone: string,
): Map<string, string> {
  const words = new Map<string, string>();
  const film = filmOn(picture, surface.id, now);
  const planned = coats.find((coat) => coat.state === "planned");
  if (planned) {
    const asked = { action: "recoat" as const, surfaceId: surface.id, sheetId: planned.sheetId };
    const found = recoatFilmGate(picture, asked, now);
    // bare wood holds a first coat only while it is wet
    if (film.length > 0 || found.state !== "open")
      words.set(planned.id, `may go on ${gateTimeWords(found, now, zone, picture)}`);
  }
  const top = film.at(-1);
  const alone: Picture = {
    ...picture,
    surfaces: [surface],
    pairs: picture.pairs.filter((pair) => pair.surfaceA === surface.id || pair.surfaceB === surface.id),
    coats: picture.coats.filter((coat) => coat.state !== "planned"),
  };
  const next = top && nextGate(alone, now);
  if (next) words.set(top.id, `${askedWords(next.asked, picture)} ${gateTimeWords(next.gate, now, zone, picture)}`);
  else if (top) words.set(top.id, "fully cured");
  return words;
}
