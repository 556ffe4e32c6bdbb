import type { GateAction } from "~/core/cure/demand";
import type { AskedGate } from "~/core/cure/next-gate";
import type { Picture } from "~/core/cure/picture";
import type { InstantMs } from "~/core/units";
import { squareMetres } from "~/ui/format";
import type { FilmRowProps } from "~/ui/kit/film-row";
import type { GateSentenceProps } from "~/ui/kit/gate-sentence";
import type { MayIGate } from "~/ui/kit/may-i";
import { listed, testWords } from "~/ui/trade-words";
import { alike } from "./alike";
import { coatFilms } from "./coat-films";
import { surfaceState } from "./film-state";
import { filmView } from "./film-view";
import { askedWords, byWordWords, gateMoment, heldByWords } from "./gate-words";
import { lostWords } from "./lost-words";
import { mayIView, noTimeWords } from "./may-i-view";
import type { Outlook } from "./outlook";
import { filmQuestion } from "./strip-view";

export type OpenedView = {
  films: FilmRowProps[];
  sentence?: GateSentenceProps;
  /** Why the date is what it is: hours lost, hours that nobody read. */
  why: string[];
  mayI: MayIGate[];
};

/** What a strip says once it is opened: each surface's film with all its posts, the sentence, and every act. */
export function openedView(outlook: Outlook, now: InstantMs, zone: string): OpenedView | undefined {
  const { picture } = outlook;
  if (!picture) return undefined;
  const question = filmQuestion(outlook);
  const views = picture.surfaces.flatMap((surface) => {
    const state = surfaceState(picture, surface.id, now)?.word ?? "";
    const view = filmView(
      picture,
      surface.id,
      questionOf(question, surface.id, picture),
      now,
      zone,
      surface.name,
      state,
    );
    return view ? [{ surface, view }] : [];
  });
  const rows = views.map(({ surface, view }): FilmRowProps & { decimetres: number } => {
    const asked = questionOf(question, surface.id, picture);
    const coats = coatFilms(picture, surface.id, view.shape, asked, now, zone);
    return {
      surface: surface.name,
      decimetres: surface.squareDecimetres,
      film: view.film,
      ...(coats.length > 0 && { coats }),
    };
  });
  const why = views.flatMap(({ view }) => lostWords(view.shape.spans, picture, now, zone));
  const told = outlook.recoatNow[0] ?? outlook.byWord[0] ?? outlook.next;
  return {
    films: alike(rows, ({ film, coats }) => [
      { ...film, words: film.words.safe },
      coats?.map((coat) => coat.safe),
    ]).flatMap(drawn),
    ...(told && { sentence: gateSentence(picture, told, now, zone) }),
    why: [...new Set(why)],
    mayI: views.length > 0 ? mayIView(picture, now, zone) : [],
  };
}

/** So many faces that look the same say nothing by being drawn each: four chairs of one session are one film. */
const manyAlike = 3;

function drawn(rows: readonly (FilmRowProps & { decimetres: number })[]): FilmRowProps[] {
  const [first] = rows;
  if (!first || rows.length < manyAlike)
    return rows.map(({ decimetres, ...row }) => ({ ...row, area: squareMetres(decimetres) }));
  const { decimetres: _each, ...row } = first;
  const surface = listed(rows.map((each) => each.surface));
  const area = squareMetres(rows.reduce((sum, each) => sum + each.decimetres, 0));
  return [{ ...row, surface, area, film: { ...row.film, words: { ...row.film.words, surface, holds: undefined } } }];
}

/** Where one surface waits for its next coat, the others are asked what they wait for: their own, or to be handled. */
function questionOf(question: GateAction, surfaceId: string, picture: Picture): GateAction {
  if (question.action !== "recoat" || question.surfaceId === surfaceId) return question;
  const next = picture.coats
    .filter((coat) => coat.surfaceId === surfaceId && coat.state === "planned")
    .sort((one, other) => one.position - other.position)[0];
  return next ? { action: "recoat", surfaceId, sheetId: next.sheetId } : { action: "move", carried: "hands" };
}

/** "Handle Tue 05:15 - safe; likely Mon 23:45 - holds: fronts, coat 2." */
export function gateSentence(
  picture: Picture,
  { asked, gate: found }: AskedGate,
  now: InstantMs,
  zone: string,
): GateSentenceProps {
  const act = askedWords(asked, picture);
  const holds = heldByWords(picture, found, now);
  if (found.state === "open") {
    const since =
      found.sinceAt === undefined ? "open for long" : `since ${gateMoment(found, found.sinceAt, now, zone)}`;
    return {
      head: `${act} ${since}`,
      parts: [
        byWordWords(picture, found, now, zone) ?? openedBy(picture, found),
        holds && `held last by: ${holds}`,
      ].filter((part) => typeof part === "string"),
    };
  }
  if (found.safeAt === undefined || found.safeAt <= now)
    return {
      head: `${act}: ${noTimeWords(found)}`,
      parts: [holds && `holds: ${holds}`].filter((part) => typeof part === "string"),
    };
  const safe = gateMoment(found, found.safeAt, now, zone);
  const likely = found.likelyAt === undefined ? undefined : gateMoment(found, found.likelyAt, now, zone);
  // where both are one time, it is said once
  const sureness = likely === undefined ? "safe; no likely time" : likely === safe ? "safe" : `safe; likely ${likely}`;
  return {
    head: `${act} ${safe}`,
    parts: [sureness, holds && `holds: ${holds}`].filter((part) => typeof part === "string"),
  };
}

function openedBy(picture: Picture, found: AskedGate["gate"]): string {
  const test = found.evidence === "test" ? picture.tests.find(({ at }) => at === found.sinceAt) : undefined;
  if (!test) return "safe";
  const by = picture.members.find(({ id }) => id === test.by)?.name;
  return [testWords[test.kind], by].filter((words) => words !== undefined).join(", ");
}
