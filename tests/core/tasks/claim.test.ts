import { describe, expect, test } from "vitest";
import { hasLapsed, leaseAskAt, leaseEndsAt, liveClaim } from "~/core/tasks/claim";
import { dayMs, hourMs } from "~/core/units";
import { fern, id, monday8, silas, theShop } from "../support/people";
import { aClaim, anEntry, dresser } from "../support/pieces";

const [scrape, fill] = [id(201), id(202)];
const claim = aClaim({ id: id(301), taskId: scrape, memberIds: [fern], lastSignAt: monday8 });
/** The shop's lease: three days after the last sign; a day before, the holder is asked. Source: the shop's own setting. */
const [asks, ends] = [monday8 + 2 * dayMs, monday8 + 3 * dayMs];

test("the holder of a task is asked a day before the lease of three days ends", () => {
  expect([leaseAskAt(claim, theShop), leaseEndsAt(claim, theShop)]).toEqual([asks, ends]);
});

test("the claim that has not ended is the one that stands", () => {
  const over = aClaim({ id: id(302), taskId: scrape, endedAt: monday8 });
  expect(liveClaim([over, claim])).toBe(claim);
  expect(liveClaim([over])).toBeUndefined();
});

describe("a claim lapses", () => {
  test("at the end of its lease, not a millisecond before", () => {
    expect([hasLapsed(claim, theShop, [], ends - 1), hasLapsed(claim, theShop, [], ends)]).toEqual([false, true]);
  });

  test("never while its holder's timer runs on that task", () => {
    const running = anEntry({ id: id(401), subjects: [{ pieceId: dresser, taskId: scrape, stage: "prep" }] });
    expect(hasLapsed(claim, theShop, [running], ends + 10 * hourMs)).toBe(false);
  });

  test("although its holder works on another task, or another person on this one", () => {
    const elsewhere = anEntry({ id: id(402), subjects: [{ pieceId: dresser, taskId: fill, stage: "prep" }] });
    const another = anEntry({
      id: id(403),
      memberId: silas,
      subjects: [{ pieceId: dresser, taskId: scrape, stage: "prep" }],
    });
    expect(hasLapsed(claim, theShop, [elsewhere, another], ends)).toBe(true);
  });
});
