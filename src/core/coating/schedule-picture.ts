/** The finish schedules of a piece, drawn from its picture and its tasks. */
import type { Picture } from "../cure/picture";
import { familyOf, sheetOf } from "../cure/picture";
import type { Coat, HandTest, Mix, Surface, Task } from "../shop/tables";
import { checkSchedule } from "./schedule-check";
import type { Finding, Layer, Patch, Schedule } from "./schedule-findings";

const thinnedPercentOf = (mix: Mix | undefined): number | undefined => {
  if (mix?.thinnerMillilitres === undefined) return undefined;
  const productMillilitres = mix.millilitres - mix.thinnerMillilitres - (mix.hardenerMillilitres ?? 0);
  return productMillilitres > 0 ? (100 * mix.thinnerMillilitres) / productMillilitres : undefined;
};

const isThere = (coat: Coat) => coat.state !== "struck" && coat.removed === undefined && coat.state !== "removed";

/** The coats of a surface from the wood up, laid or to come. */
export const layersOf = (picture: Picture, surfaceId: string): Layer[] =>
  picture.coats
    .filter((coat) => coat.surfaceId === surfaceId && isThere(coat))
    .sort((lower, upper) => lower.position - upper.position)
    .map((coat): Layer => {
      const sheet = sheetOf(picture, coat.sheetId);
      const product = picture.productById.get(sheet.productId);
      const { applied } = coat;
      const thinnedPercent = thinnedPercentOf(picture.mixById.get(applied?.mixId ?? ""));
      const wetFilmMicrometres = applied ? applied.wetFilmMicrometres : coat.plannedWetFilmMicrometres;
      return {
        coatId: coat.id,
        sheet,
        family: familyOf(picture, sheet),
        productId: sheet.productId,
        isLaid: applied !== undefined,
        ...(product?.colour !== undefined && { colour: product.colour }),
        ...(wetFilmMicrometres !== undefined && { wetFilmMicrometres }),
        ...(thinnedPercent !== undefined && { thinnedPercent }),
      };
    });

const speaksOf = ({ subject }: HandTest, surfaceId: string) =>
  (subject.of === "surface" || subject.of === "patch") && subject.surfaceId === surfaceId;

/** A partner's word opens; a helper's where the shop says so, or a partner confirmed it. */
const mayOpen = (picture: Picture, test: HandTest): boolean => {
  const member = picture.members.find(({ id }) => id === test.by);
  const span = member?.roleSpans.find(
    ({ fromAt, toAt }) => fromAt <= test.at && (toAt === undefined || test.at < toAt),
  );
  if (span?.role === "owner" || span?.role === "partner" || picture.shop.helperTestOpens) return true;
  return picture.confirmations.some(({ testId }) => testId === test.id);
};

const patchesOn = (picture: Picture, surfaceId: string): Patch[] =>
  picture.tests
    .filter((test) => test.kind === "bleed-patch" && speaksOf(test, surfaceId))
    .map((test) => ({ test, mayOpen: mayOpen(picture, test) }));

const isAlive = (task: Task) => task.state !== "set-aside";
const isAbout = (task: Task, surfaceId: string) => task.surfaceIds.length === 0 || task.surfaceIds.includes(surfaceId);

/** The schedule of one surface with all that it is checked against; `tasks` are those of the piece. */
export const scheduleOf = (picture: Picture, surface: Surface, tasks: readonly Task[]): Schedule => {
  const alive = tasks.filter(isAlive);
  const wood = surface.wood ?? picture.piece.wood;
  return {
    surface,
    ...(wood !== undefined && { wood }),
    layers: layersOf(picture, surface.id),
    patches: patchesOn(picture, surface.id),
    isFaceToFace: picture.pairs.some(({ surfaceA, surfaceB }) => surfaceA === surface.id || surfaceB === surface.id),
    beside: picture.surfaces
      .filter(({ id }) => id !== surface.id)
      .map(({ id }) => ({
        surfaceId: id,
        layers: layersOf(picture, id),
        isMasked: alive.some((task) => task.methods.includes("mask") && isAbout(task, id)),
      })),
    isScuffPlanned: alive.some(
      (task) =>
        task.state !== "finished" &&
        isAbout(task, surface.id) &&
        task.methods.some((method) => method === "dry-sand" || method === "wet-sand") &&
        task.sort !== "prep" &&
        task.sort !== "repair",
    ),
  };
};

/** All findings of a piece, surface by surface. */
export const pieceFindings = (picture: Picture, tasks: readonly Task[]): Finding[] =>
  picture.surfaces.flatMap((surface) => checkSchedule(scheduleOf(picture, surface, tasks)));
