import { expect, test } from "vitest";
import { dayMs, hourMs } from "~/core/units";
import type { KeptIntent } from "~/device/queue-database";
import { endedWords } from "~/ui/shell/ended-words";
import { envelopeOf, hanna, monday8 } from "../../core/support/shop";

const ended = { endedAt: monday8, untilAt: monday8 + 14 * dayMs, isOver: false, delivered: [] };
const intent = envelopeOf("claim-task", {}, hanna, { at: monday8 });
const waiting: KeptIntent = { place: 1, owner: "", state: "waiting", intent };
const refused: KeptIntent = {
  ...waiting,
  place: 2,
  state: "refused",
  refusal: { kind: "no-longer-a-member", endedAt: monday8 },
};
const now = monday8 + hourMs;
const words = (more: Partial<Parameters<typeof endedWords>[0]>, kept: KeptIntent[] = [], at = now) =>
  endedWords({ ...ended, ...more }, kept, at, "America/New_York");
const took = (kind: string, intentId: string) => ({ kind, intentId, madeAt: monday8 });

test("whoever has left reads what was delivered, each sort once, and that it waits for the owner's yes", () => {
  const delivered = [took("add-entry", "1"), took("add-entry", "2"), took("record-test", "3")];
  const said = words({ delivered });
  expect(said.sentences[1]).toBe(
    "3 things that you did before that were delivered. Each counts when the owner has said yes.",
  );
  expect(said.delivered).toEqual(["Hours written, 2 times", expect.stringMatching(/test/i)]);
});

test("and how many were not taken, and where the reasons are", () => {
  expect(words({}, [refused]).sentences[1]).toBe("One thing was not taken. Under More you read why.");
  expect(words({}, [refused, { ...refused, place: 3 }]).sentences[1]).toContain("2 things were not taken");
});

test("and what still waits, until when, or that it can only be carried away by hand", () => {
  expect(words({}, [waiting]).sentences[1]).toMatch(/^One thing waits here, and can be delivered until .*9 Nov/);
  const over = words({ isOver: true }, [waiting], monday8 + 15 * dayMs);
  expect(over.sentences[1]).toMatch(/^One thing can be delivered no more: .* Save the file under More\.$/);
});

test("and that nothing was left, where nothing was", () => {
  expect(words({}).sentences.at(-1)).toBe("Nothing was left here to deliver.");
});
