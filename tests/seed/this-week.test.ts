import { describe, expect, test } from "vitest";
import { dayEndAt, shopDayAt } from "~/core/calendar";
import { nextGate } from "~/core/cure/next-gate";
import { leadState } from "~/core/safety/lead";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { pictureOf } from "~/core/shop/picture";
import { WeekClock, type Weekday, zone } from "../../seed/clock";
import { demoLines } from "../../seed/demo";
import { demoWeek } from "../../seed/demo-week";
import { pieceIdOf } from "../../seed/pieces";
import { arrivalAt } from "../../seed/script";
import { thisWeek } from "../../seed/this-week";
import { playInMemory } from "./memory-play";

const clock = new WeekClock("2026-11-02");
const weekdays: Weekday[] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
const mornings = weekdays.map((day) => ({ day, now: clock.at(`${day} 09:00`) }));

const lines = [...demoWeek(clock.later(-1).monday), ...thisWeek(clock.monday, clock.endsAt)];

const lookAt = (facts: MemoryFacts, now: number) => {
  const onFloor = facts.all("piece").filter((piece) => piece.archivedAt === undefined);
  const asked = onFloor.flatMap((piece) => {
    const picture = pictureOf(facts, piece.id);
    return picture ? [{ picture, next: nextGate(picture, now) }] : [];
  });
  const opensAt = asked.flatMap(({ next }) => next?.gate.safeAt ?? []);
  const today = dayEndAt(shopDayAt(now, zone), zone);
  const chest = facts.get("piece", pieceIdOf("K-206"));
  return {
    soon: opensAt.filter((at) => at < today).length,
    waiting: opensAt.filter((at) => at >= today).length,
    freeTasks: facts.all("task").filter((task) => task.state === "open" && task.pieceId !== chest?.id).length,
    held: facts.all("claim").filter((claim) => claim.endedAt === undefined).length,
    running: facts.running().length,
    isLocked:
      chest !== undefined && leadState(chest, facts.where("test", "pieceId", chest.id), 1978, now) === "positive",
  };
};

describe("the week in which the invented shop is looked at", () => {
  const looks = new Map<Weekday, ReturnType<typeof lookAt>>();
  let facts: MemoryFacts | undefined;
  let fromAt = 0;
  for (const { day, now } of mornings) {
    facts = playInMemory(
      lines.filter((line) => arrivalAt(line) > fromAt && arrivalAt(line) <= now),
      facts,
    );
    looks.set(day, lookAt(facts, now));
    fromAt = now;
  }

  test.each(weekdays)(
    "on %s at nine something opens that day, something later, work is free and held, and the chest is locked",
    (day) => {
      const look = looks.get(day);
      expect(look?.soon).toBeGreaterThan(0);
      expect(look?.waiting).toBeGreaterThan(0);
      expect(look?.freeTasks).toBeGreaterThan(0);
      expect(look?.held).toBeGreaterThan(0);
      expect(look?.isLocked).toBe(true);
    },
  );

  test("a timer runs in the working hours of every working day, and none on Sunday", () => {
    expect(weekdays.map((day) => Math.min(1, looks.get(day)?.running ?? 0))).toEqual([1, 1, 1, 1, 1, 1, 0]);
  });
});

test("nothing is told of that has not happened yet, and the air is read up to the last minutes", () => {
  const now = clock.at("Wed 10:37");
  const told = demoLines(now);
  expect(told.every((line) => line.at <= now)).toBe(true);
  const readAt = told.filter((line) => line.kind === "import-readings").map((line) => line.at);
  expect(Math.max(...readAt)).toBe(now);
});

test("two lines never share a name, so their intents never share an id", () => {
  expect(new Set(lines.map((line) => line.intentId)).size).toBe(lines.length);
});
