// source of every rule here: common practice (extra coats of colour do not stop a stain; shellac does, or a clean patch of a day)
import { expect, test } from "vitest";
import { gate } from "~/core/cure/gate";
import type { Picture } from "~/core/cure/picture";
import type { HandTest } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import {
  at,
  coat,
  handTest,
  helper,
  pictureOf,
  piece,
  shellacBlocker,
  sprayRoom,
  stay,
  steadyLoft,
  surface,
  w1,
  w2,
  weekReadings,
} from "./week";

const now = at("10-29 14:00 EDT");
const desk = piece();
const top = { ...surface("top", desk.id), isPaleWanted: true, bleedRisk: "yes" as const };

const deskWith = (of: Partial<Picture> = {}): Picture =>
  pictureOf(
    { piece: desk, surfaces: [top], coats: [], stays: [stay(desk.id, sprayRoom, at("10-20 08:00 EDT"))], ...of },
    weekReadings(now, steadyLoft),
  );
const mayCoat = (picture: Picture, sheetId = w1.sheet.id, when = now) =>
  gate(picture, { action: "recoat", surfaceId: top.id, sheetId, roomId: sprayRoom.id, scuffedBefore: true }, when);
const bleeds = (picture: Picture, sheetId?: string, when?: number) =>
  mayCoat(picture, sheetId, when).needs.some(({ kind }) => kind === "bleed");
const patch = (result: HandTest["result"], when: number, by?: string) =>
  handTest({
    subject: { of: "patch", surfaceId: top.id, productId: w1.product.id },
    kind: "bleed-patch",
    at: when,
    result,
    ...(by && { by }),
  });

test("pale paint is not laid over wood that bleeds, whatever the plan said", () => {
  expect(mayCoat(deskWith())).toMatchObject({ state: "shut", needs: [{ kind: "bleed", finding: { cause: "said" } }] });
});

test("a second pale coat over the first does not make it better", () => {
  expect(bleeds(deskWith({ coats: [coat(top, w1, now - 2 * dayMs)] }))).toBe(true);
});

test("over a shellac barrier the same paint may be laid", () => {
  const sealed = deskWith({ coats: [coat(top, shellacBlocker, now - dayMs)] });
  expect(mayCoat(sealed)).toMatchObject({ state: "open", needs: [] });
});

test("a patch that stayed clean for a day answers it; one of twenty-three hours does not", () => {
  const tried = (hours: number) => [patch("pending", now - hours * hourMs), patch("pass", now)];
  expect(bleeds(deskWith({ tests: tried(24) }))).toBe(false);
  expect(bleeds(deskWith({ tests: tried(23) }))).toBe(true);
});

test("a patch that is judged later says nothing about a coat before it", () => {
  const tests = [patch("pending", now - 30 * hourMs), patch("pass", now - hourMs)];
  expect(bleeds(deskWith({ tests }), w1.sheet.id, now - 2 * hourMs)).toBe(true);
  expect(bleeds(deskWith({ tests }))).toBe(false);
});

test("a helper's clean patch counts once a partner has confirmed it", () => {
  const pass = patch("pass", now - hourMs, helper.id);
  const tests = [patch("pending", now - 30 * hourMs, helper.id), pass];
  expect(bleeds(deskWith({ tests }))).toBe(true);
  const confirmations = [{ id: "c", pieceId: desk.id, testId: pass.id, by: helper.id, at: now }];
  expect(bleeds(deskWith({ tests, confirmations }))).toBe(false);
  expect(
    bleeds(deskWith({ tests, confirmations: [{ ...(confirmations[0] as (typeof confirmations)[0]), at: now + 1 }] })),
  ).toBe(true);
});

test("a clear coat shows no stain, so it is not held back", () => {
  expect(bleeds(deskWith(), w2.sheet.id)).toBe(false);
});
