import { filmShape } from "~/core/cure/film-shape";
import type { FilmSpan } from "~/core/cure/film-spans";
import { type ProgressCurve, progressCurve } from "~/core/cure/progress-curve";
import { type InstantMs, minuteMs } from "~/core/units";
import { alike } from "~/ui/floor/alike";
import { filmMoment } from "~/ui/floor/gate-words";
import type { Outlook } from "~/ui/floor/outlook";
import { filmQuestion } from "~/ui/floor/strip-view";
import { celsius, curedHours, duration } from "~/ui/format";
import { listed } from "~/ui/trade-words";

export const curveSize = { width: 320, height: 120 } as const;

/** A room's air is drawn behind the curve on a scale of its own, with a degree of air above and below it. */
const marginCelsius = 1;
/** A stop shorter than this share of the whole is a hair that nobody sees. */
const narrowestShare = 0.006;

export type CurveStop = { x: number; width: number; kind: "cold" | "unread" };

export type CurveView = {
  safe: string;
  likely: string;
  /** The room's temperature, broken where nobody read it. */
  air: string[];
  nowX: number;
  stops: CurveStop[];
  /** The lowest temperature at which it hardens, where it lies on the scale. */
  lowestY?: number;
  warmest?: string;
  coldest?: string;
  laid: string;
  end: string;
  /** All of it in words, for whoever does not see the drawing. */
  words: string[];
};

const round = (value: number) => Math.round(value * 10) / 10;

const lengthWords = (spans: readonly FilmSpan[]) =>
  duration(spans.reduce((sum, { fromAt, toAt }) => sum + Math.round((toAt - fromAt) / minuteMs) * 60, 0));

function stoodWords(curve: ProgressCurve): string[] {
  const lost = curve.stoodStill.filter(({ kind }) => kind === "lost");
  const unread = curve.stoodStill.filter(({ kind }) => kind === "unknown");
  return [
    lost.length > 0 &&
      `It stood still for ${lengthWords(lost)}: below ${celsius(curve.lowestCelsius)}, or too damp to dry.`,
    unread.length > 0 && `Nobody read its room for ${lengthWords(unread)}: no hours earned.`,
    lost.length + unread.length === 0 && "It never stood still.",
  ].filter((words) => typeof words === "string");
}

function wordsOf(curve: ProgressCurve, now: InstantMs, zone: string): string[] {
  const { neededMin, safeCreditMin, safeAt, likelyAt } = curve;
  const reached = safeAt !== undefined && safeAt <= now;
  return [
    `Laid ${filmMoment(curve.laidAt, now, zone)}. It has earned ${curedHours(Math.min(safeCreditMin, neededMin))} of ${curedHours(neededMin)} so far.`,
    ...stoodWords(curve),
    safeAt === undefined
      ? "As the air is foretold, waiting will not do it."
      : `${reached ? "All earned" : "All earned, at the forecast low,"} ${filmMoment(safeAt, now, zone)}${
          likelyAt === undefined ? "." : `; likely ${filmMoment(likelyAt, now, zone)}.`
        }`,
  ];
}

/** A film's progress as lines on a board of `curveSize`, and in words. */
export function curveView(curve: ProgressCurve, now: InstantMs, zone: string): CurveView {
  const { width, height } = curveSize;
  const startAt = curve.points[0]?.at ?? curve.laidAt;
  const x = (at: InstantMs) => round((Math.min(1, Math.max(0, (at - startAt) / (curve.endAt - startAt))) || 0) * width);
  const line = (share: (point: ProgressCurve["points"][0]) => number) =>
    curve.points.map((point) => `${x(point.at)},${round((1 - share(point)) * height)}`).join(" ");
  const known = curve.points.flatMap((point) => point.celsius ?? []);
  const [coldest, warmest] = [Math.min(...known), Math.max(...known)];
  const span = warmest - coldest + 2 * marginCelsius;
  const airY = (value: number) => round((1 - (value - coldest + marginCelsius) / span) * height);
  const air: string[][] = [[]];
  for (const point of curve.points) {
    if (point.celsius === undefined) air.push([]);
    else air.at(-1)?.push(`${x(point.at)},${airY(point.celsius)}`);
  }
  const isOnScale = curve.lowestCelsius >= coldest - marginCelsius && curve.lowestCelsius <= warmest + marginCelsius;
  return {
    safe: line(({ safeShare }) => safeShare),
    likely: line(({ likelyShare }) => likelyShare),
    air: air.filter((run) => run.length > 1).map((run) => run.join(" ")),
    nowX: x(now),
    stops: curve.stoodStill
      .map(({ fromAt, toAt, kind }) => ({
        x: x(fromAt),
        width: round(x(toAt) - x(fromAt)),
        kind: kind === "lost" ? ("cold" as const) : ("unread" as const),
      }))
      .filter((stop) => stop.width > narrowestShare * width),
    ...(known.length > 0 && { warmest: celsius(round(warmest)), coldest: celsius(round(coldest)) }),
    ...(known.length > 0 && isOnScale && { lowestY: airY(curve.lowestCelsius) }),
    laid: `${startAt === curve.laidAt ? "laid" : "from"} ${filmMoment(startAt, now, zone)}`,
    end: `${curve.safeAt === curve.endAt ? "safe" : curve.likelyAt === curve.endAt ? "likely" : "to"} ${filmMoment(curve.endAt, now, zone)}`,
    words: wordsOf(curve, now, zone),
  };
}

/** The curve of each surface that a film holds, against what its gauge is drawn against; the same course is told once. */
export function surfaceCurves(outlook: Outlook, now: InstantMs, zone: string): { surface: string; view: CurveView }[] {
  const { picture } = outlook;
  if (!picture) return [];
  const question = filmQuestion(outlook);
  const curves = picture.surfaces.flatMap((surface) => {
    const isOfOther = question.action === "recoat" && question.surfaceId !== surface.id;
    const asked = isOfOther ? ({ action: "move", carried: "hands" } as const) : question;
    const gate = filmShape(picture, surface.id, asked, now)?.gate;
    const curve = gate && progressCurve(picture, gate, now);
    return curve ? [{ surface: surface.name, view: curveView(curve, now, zone) }] : [];
  });
  return alike(curves, ({ view }) => view).flatMap(([first, ...others]) =>
    first ? [{ ...first, surface: listed([first, ...others].map(({ surface }) => surface)) }] : [],
  );
}
