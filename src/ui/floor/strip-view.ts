import type { GateAction } from "~/core/cure/demand";
import { filmOn, type Picture } from "~/core/cure/picture";
import type { Member } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import type { FilmProps } from "~/ui/kit/film";
import type { MemberMarkProps } from "~/ui/kit/member-mark";
import type { StripFaceProps } from "~/ui/kit/strip-face";
import type { TapeProps } from "~/ui/kit/tape";
import { listed } from "~/ui/trade-words";
import { filmView } from "./film-view";
import { earnedWords, productName } from "./gate-words";
import type { Outlook } from "./outlook";
import { plateView } from "./plate-view";

export type StripView = Omit<StripFaceProps, "run"> & {
  run: Omit<StripFaceProps["run"], "children">;
  /** The gauge in the window; without one the wood stays bare. */
  film?: FilmProps;
};

export type StripAround = {
  zone: string;
  /** The others who look at this piece just now. */
  looking: readonly Member[];
  pending?: TapeProps;
};

export const markOf = (member: Member): MemberMarkProps => ({
  letter: member.markLetter,
  outline: member.markOutline,
  name: member.name,
});

/** The question that a strip's film answers: what may be done now that somebody waits for, else what opens next. */
export const filmQuestion = ({ recoatNow, next }: Outlook): GateAction =>
  recoatNow[0]?.asked ?? next?.asked ?? { action: "use", how: "full" };

/** The surface whose film decides; without a decision, the first on which one lies. */
export function filmSurfaceId({ picture, recoatNow, next }: Outlook, now: InstantMs): string | undefined {
  const asked = (recoatNow[0] ?? next)?.asked;
  if (asked && "surfaceId" in asked && asked.surfaceId !== undefined) return asked.surfaceId;
  return (
    next?.gate.heldBy?.surfaceId ?? picture?.surfaces.find((surface) => filmOn(picture, surface.id, now).length > 0)?.id
  );
}

/** The surfaces that carry the same film as this one: "body and fronts", or all of them. */
function surfaceWords(picture: Picture, surfaceId: string, now: InstantMs): string {
  const filmKey = (id: string) =>
    filmOn(picture, id, now)
      .map((coat) => coat.sheetId)
      .join();
  const key = filmKey(surfaceId);
  const alike = picture.surfaces.filter((surface) => surface.id === surfaceId || filmKey(surface.id) === key);
  if (alike.length > 1 && alike.length === picture.surfaces.length) return "all surfaces";
  return listed(alike.map((surface) => surface.name.toLowerCase()));
}

/** "body and fronts, W1 coat 2 of 2 · 40.8 of 96 h earned" */
export function windowWords(outlook: Outlook, surfaceId: string, now: InstantMs): string | undefined {
  const { picture, next, recoatNow } = outlook;
  const coats = picture ? filmOn(picture, surfaceId, now) : [];
  const top = coats.at(-1);
  if (!picture || !top) return undefined;
  const all = picture.coats.filter(
    (coat) => coat.surfaceId === surfaceId && coat.state !== "struck" && coat.state !== "removed",
  );
  const earned = next && recoatNow.length === 0 ? earnedWords(next.gate) : undefined;
  const coat = `${productName(picture, top.sheetId)} coat ${coats.length} of ${all.length}`;
  return [`${surfaceWords(picture, surfaceId, now)}, ${coat}`, earned]
    .filter((words) => words !== undefined)
    .join(" · ");
}

/** Without a film, the work is what the window is about. */
function workWords({ tasks, claims }: Outlook): Pick<StripView["run"], "state" | "what"> {
  if (tasks.length === 0) return {};
  const held = tasks.filter((task) => claims.some((claim) => claim.taskId === task.id));
  const titles = [...held, ...tasks.filter((task) => !held.includes(task))].map(({ title }) => title);
  return { state: tasks.length === 1 ? "1 task" : `${tasks.length} tasks`, what: titles.slice(0, 2).join(" · ") };
}

function peopleWords({ running, members }: Outlook, looking: readonly Member[]): string[] {
  const name = (id: string) => members.find((member) => member.id === id)?.name ?? "somebody";
  const names = (ids: string[]) => listed([...new Set(ids)].map(name));
  return [
    running.length > 0 ? `${names(running.map((entry) => entry.memberId))} at work` : undefined,
    looking.length > 0 ? `${names(looking.map((member) => member.id))} looking` : undefined,
  ].filter((words) => words !== undefined);
}

const sizeWords = ({ wood, widthMillimetres, depthMillimetres, heightMillimetres, partCount }: Outlook["piece"]) => {
  if (wood !== undefined) return wood;
  const sides = [widthMillimetres, depthMillimetres, heightMillimetres].filter((side) => side !== undefined);
  if (sides.length === 3) return `${sides.map((side) => Math.round(side / 10)).join(" × ")} cm`;
  return partCount > 1 ? `${partCount} parts` : undefined;
};

/** One strip: tag, name, who, where, promise, the run with its film, and the plate. */
export function stripView(outlook: Outlook, { zone, looking, pending }: StripAround): StripView {
  const { at: now, piece, picture, claims, running, members, stuck, promise } = outlook;
  const holderId = running[0]?.memberId ?? claims[0]?.memberIds[0];
  const holder = members.find(({ id }) => id === holderId);
  const room = outlook.room?.name ?? "no room";
  const surfaceId = filmSurfaceId(outlook, now);
  const state = stuck?.about === "lead" ? { glyph: "barred" as const, word: "locked" } : outlook.state;
  const view =
    picture && surfaceId
      ? filmView(
          picture,
          surfaceId,
          filmQuestion(outlook),
          now,
          zone,
          windowSurface(picture, surfaceId),
          state?.word ?? "",
        )
      : undefined;
  const work = workWords(outlook);
  return {
    tag: piece.number,
    href: `/piece?id=${piece.id}`,
    name: piece.name,
    ...(holder && { who: markOf(holder) }),
    where: [holder || outlook.tasks.length === 0 ? undefined : "nobody yet", room, ...peopleWords(outlook, looking)]
      .filter((words) => words !== undefined)
      .join(" · "),
    detail: sizeWords(piece),
    ...(promise && { promise: { text: promise.text, atRisk: promise.isAtRisk } }),
    ...(stuck && { stuck: stuck.text }),
    ...(pending && { pending }),
    run: {
      stage: piece.stage,
      ...(state ? { glyph: state.glyph, state: state.word } : { state: work.state }),
      what: surfaceId && view ? windowWords(outlook, surfaceId, now) : work.what,
    },
    // a strip is narrow: of what has passed, the post that hands ask about is enough
    ...(view && { film: { ...view.film, posts: view.film.posts?.filter(({ label }) => label !== "tack-free") } }),
    plate: plateView(outlook, now, zone),
  };
}

const windowSurface = (picture: Picture, surfaceId: string) =>
  picture.surfaces.find((surface) => surface.id === surfaceId)?.name ?? "surface";
