import { expect, test } from "vitest";
import type { Intent } from "~/core/shop/intent";
import { intentKinds } from "~/core/shop/intents";
import { minuteMs } from "~/core/units";
import { actWords } from "~/ui/more/act-words";
import { madeAt, pendingChanges, pieceIdOf } from "~/ui/more/kept-words";
import {
  aCoat,
  anEntry,
  aPiece,
  aTask,
  dresser,
  envelopeOf,
  fern,
  id,
  monday8,
  shopWith,
} from "../../core/support/shop";

const facts = shopWith({
  piece: [aPiece()],
  task: [aTask({ id: id(301), title: "Mask the knots" })],
  coat: [aCoat({ id: id(302) })],
  entry: [anEntry({ id: id(303) })],
});
const kept = (kind: string, body: unknown, at = monday8) => ({
  place: 1,
  owner: "",
  state: "waiting" as const,
  intent: envelopeOf(kind, body, fern, { at }),
});

test("whatever is done in this shop has its own words in the queue", () => {
  expect(intentKinds.filter((kind) => actWords[kind] === undefined)).toEqual([]);
});

test.each([
  { body: { pieceId: dresser }, about: "the piece itself" },
  { body: { taskId: id(301) }, about: "a task on it" },
  { body: { coatId: id(302) }, about: "a coat of it" },
  { body: { entryId: id(303) }, about: "the timer that runs on it" },
  { body: { entryId: id(399), subjects: [{ pieceId: dresser }] }, about: "a new timer on it" },
])("a change about $about hangs the tag of the piece", ({ body }) => {
  expect(pieceIdOf(facts, { body } as Pick<Intent, "body">)).toBe(dresser);
});

test("changes stand in the order in which they go out, with their place and time", () => {
  const waiting = [
    kept("claim-task", { claimId: id(311), taskId: id(301), memberIds: [fern] }, monday8 - 20 * minuteMs),
    kept("log-wiped", { coatId: id(302) }, monday8 - 8 * minuteMs),
  ];
  const shown = pendingChanges(facts, waiting, {
    now: monday8,
    zone: "America/New_York",
    heardAt: monday8 - 60 * minuteMs,
  });
  // Monday 08:00 in the shop, less 20 and 8 minutes
  expect(shown).toMatchObject([
    { tag: "K-201", place: "1st, 07:40", act: "Task taken: Mask the knots" },
    { tag: "K-201", place: "2nd, 07:52", act: "Wiped back" },
  ]);
  expect(shown[0]?.note).toContain("07:00");
  expect(shown[1]?.note).toBeUndefined();
});

test("a device whose clock is an hour slow still shows the true time of what was done", () => {
  const intent = {
    ...envelopeOf("log-wiped", { coatId: id(302) }, fern, { at: monday8 - 60 * minuteMs }),
    offsetMs: 60 * minuteMs,
  };
  expect(madeAt({ intent })).toBe(monday8);
});
