import type { HandTest } from "../shop/tables";
import { unknownSpans } from "./film-spans";
import { neededTime } from "./needed-time";
import { testedMilestone } from "./observation";
import { familyOf, filmOn, type LaidCoat, type Picture, sheetOf } from "./picture";
import { creditMin, filmOf } from "./progress";
import { filmFactor } from "./wet-on-wet";

type Lesson = { productId: string; ratio: number };

/** Credit on the likely track over the sheet's typical minutes, for one coat at the instant of the test. */
const lessonOfCoat = (picture: Picture, coat: LaidCoat, isTop: boolean, test: HandTest): Lesson | undefined => {
  const milestone = testedMilestone(test.kind);
  if (!milestone || test.at <= coat.applied.endedAt || coat.applied.isFromDeadCan) return undefined;
  const sheet = sheetOf(picture, coat.sheetId);
  const time = neededTime(sheet, familyOf(picture, sheet), { milestone }, isTop);
  if (time === "never") return undefined;
  const film = filmOf(picture, coat, test.at);
  // an estimate with a hole in it would blame the product for what the thermometer missed
  if (unknownSpans(film).length > 0) return undefined;
  const typicalMin = (time.typicalMin ?? time.min) * filmFactor(picture, coat, test.at);
  const earnedMin = creditMin(film, "likely", test.at);
  // a film that stood still by the clock has no place on a scale of ratios
  return earnedMin > 0 ? { productId: sheet.productId, ratio: Math.min(100, earnedMin / typicalMin) } : undefined;
};

const surfacesOf = (picture: Picture, { subject }: HandTest): string[] => {
  if (subject.of === "surface") return [subject.surfaceId];
  if (subject.of !== "pair") return [];
  const pair = picture.pairs.find(({ id }) => id === subject.pairId);
  return pair ? [pair.surfaceA, pair.surfaceB] : [];
};

/**
 * What a passed or failed test of a film tells of the product: how far the film had come, by the estimate standing then,
 * towards what the test asks of it. Of several films it speaks of the one that was furthest behind.
 *
 * @returns nothing where no film was tested, or where its air was not known throughout
 */
export const lessonOf = (picture: Picture, test: HandTest): Lesson | undefined => {
  if (test.result !== "pass" && test.result !== "fail") return undefined;
  const coats = surfacesOf(picture, test).map((surfaceId) => filmOn(picture, surfaceId, test.at));
  const lessons = coats.flatMap((film) => film.map((coat) => lessonOfCoat(picture, coat, coat === film.at(-1), test)));
  if (lessons.length === 0 || lessons.some((lesson) => lesson === undefined)) return undefined;
  return (lessons as Lesson[]).reduce((last, lesson) => (lesson.ratio < last.ratio ? lesson : last));
};
