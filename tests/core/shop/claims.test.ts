import { describe, expect, test } from "vitest";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aClaim,
  alreadySo,
  anEntry,
  aPiece,
  aTask,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  odile,
  type Rows,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const [scrape, fill, claim, other] = [id(201), id(202), id(301), id(302)];
const body = { claimId: claim, taskId: scrape, memberIds: [silas] };
const withTask = (task: Partial<ReturnType<typeof aTask>> = {}, rows: Rows = {}) =>
  shopWith({ piece: [aPiece()], task: [aTask({ id: scrape, ...task })], ...rows });
/** Held by the owner since Sunday eight in the morning, ledger number 10. */
const held = (row: Partial<ReturnType<typeof aClaim>> = {}) =>
  withTask({ state: "held" }, { claim: [aClaim({ id: other, taskId: scrape, ...row })] });
const sunday8 = monday8 - dayMs;
/** Three days after the last sign. Source: the shop's own setting of 4320 minutes. */
const leaseEnds = sunday8 + 3 * dayMs;

describe("claiming a task", () => {
  test("makes it yours from the moment when the shop heard of it", () => {
    const facts = withTask();
    const ruling = rule(facts, envelopeOf("claim-task", body, silas, { at: monday8 - hourMs }), monday8, { seq: 42 });
    expect(eventKinds(ruling)).toEqual(["claim-taken"]);
    expect(facts.get("claim", claim)).toEqual({
      id: claim,
      taskId: scrape,
      pieceId: dresser,
      memberIds: [silas],
      claimedAt: monday8,
      claimedSeq: 42,
      lastSignAt: monday8,
    });
    expect(facts.get("task", scrape)?.state).toBe("held");
  });

  test("may be done for two, and on the shared tablet", () => {
    const facts = withTask();
    const both = { ...body, memberIds: [silas, hanna] };
    rule(facts, envelopeOf("claim-task", both, silas), monday8, { isSharedTablet: true });
    expect(facts.get("claim", claim)?.memberIds).toEqual([silas, hanna]);
  });

  test("is done for oneself, with people of the shop", () => {
    for (const memberIds of [[hanna], [silas, id(99)]]) {
      const refusal = refusalOf(rule(withTask(), envelopeOf("claim-task", { ...body, memberIds }, silas)));
      expect(refusal).toEqual({ kind: "unknown-thing", field: "memberIds" });
    }
    const never = rule(shopWith(), envelopeOf("claim-task", body, silas));
    expect(refusalOf(never)).toEqual({ kind: "unknown-thing", field: "taskId" });
  });

  test.each([
    [bruno, "bookkeeper"],
    [odile, "outlet"],
  ])("is for those who work on the floor: not for member %s, the %s, not even beside a partner", (person, role) => {
    const alone = rule(withTask(), envelopeOf("claim-task", { ...body, memberIds: [person] }, person));
    expect(refusalOf(alone)).toEqual({ kind: "may-not", role, needs: ["owner", "partner", "helper"] });
    const beside = rule(withTask(), envelopeOf("claim-task", { ...body, memberIds: [silas, person] }, silas));
    expect(refusalOf(beside)).toMatchObject({ kind: "may-not", role, needs: ["owner", "partner", "helper"] });
  });

  test.each(["finished", "set-aside"] as const)("comes too late when the task is %s", (state) => {
    const refusal = refusalOf(rule(withTask({ state }), envelopeOf("claim-task", body, silas)));
    expect(refusal).toEqual({ kind: "task-is-over", taskId: scrape, state });
  });

  test("waits for the clamp of the task before, and says until when", () => {
    const before = aTask({
      id: fill,
      state: "finished",
      finished: { at: monday8 - 10 * minuteMs, by: fern },
      waitsMin: 60,
    });
    const facts = withTask({ after: [fill] }, { task: [aTask({ id: scrape, after: [fill] }), before] });
    const untilAt = monday8 + 50 * minuteMs;
    expect(refusalOf(rule(facts, envelopeOf("claim-task", body, silas)))).toEqual({
      kind: "task-waits",
      taskIds: [fill],
      waitsUntilAt: untilAt,
      earliestAt: untilAt,
    });
    expect(rule(facts, envelopeOf("claim-task", body, silas, { at: untilAt })).verdict).toBe("accepted");
  });

  test("needs the skill in one of the two, and names who has it", () => {
    const refusal = refusalOf(rule(withTask({ needsSkills: ["strip"] }), envelopeOf("claim-task", body, silas)));
    expect(refusal).toEqual({ kind: "skill-missing", skills: ["strip"], membersWith: [hanna] });
    const both = { ...body, memberIds: [silas, hanna] };
    const pair = rule(withTask({ needsSkills: ["strip"] }), envelopeOf("claim-task", both, silas));
    expect(pair.verdict).toBe("accepted");
  });

  test("of dry sanding is locked on old paint that may hold lead", () => {
    const painted = aPiece({ isPainted: "unknown" });
    const facts = withTask({ methods: ["dry-sand"] }, { piece: [painted] });
    expect(refusalOf(rule(facts, envelopeOf("claim-task", body, silas)))).toEqual({
      kind: "lead-locked",
      leadState: "unknown",
      methods: ["dry-sand"],
      banYear: 1978,
      subjectIds: [dresser],
    });
  });
});

describe("a task that somebody holds", () => {
  const rival = { taskId: scrape, holderId: fern, claimedAt: sunday8, leaseEndsAt: leaseEnds, subjectIds: [scrape] };

  test("is refused plainly to whoever could have seen it", () => {
    const facts = held();
    const ruling = rule(facts, envelopeOf("claim-task", body, silas, { seenSeq: 10 }));
    expect(refusalOf(ruling)).toEqual({ kind: "already-claimed", ...rival });
    expect(ruling.events).toEqual([]);
    expect(facts.get("claim", claim)).toBeUndefined();
  });

  test("is refused kindly to whoever was apart, with the work that they keep, and the holder is told", () => {
    const facts = held();
    const worked = { memberId: silas, subjects: [{ pieceId: dresser, taskId: scrape, stage: "prep" as const }] };
    facts.put("entry", anEntry({ ...worked, id: id(401), endedAt: monday8 - hourMs + 25 * minuteMs }));
    // before the holder's claim, and on another task: not what was worked meanwhile
    facts.put("entry", anEntry({ ...worked, id: id(402), startedAt: sunday8 - 2 * hourMs, endedAt: sunday8 - hourMs }));
    facts.put("entry", anEntry({ id: id(403), memberId: silas, endedAt: monday8 }));
    const ruling = rule(facts, envelopeOf("claim-task", body, silas, { seenSeq: 9 }));
    expect(refusalOf(ruling)).toEqual({ kind: "claimed-while-apart", ...rival, keptSeconds: 1500 });
    const [told] = facts.where("notice", "memberId", fern);
    expect(told).toMatchObject({
      about: "claim-contested",
      pieceId: dresser,
      taskId: scrape,
      byMemberId: silas,
      detail: { keptSeconds: 1500 },
    });
    expect(facts.get("claim", other)?.endedAt).toBeUndefined();
  });

  test("stays its holder's who claims it again, as a sign that they have not left it", () => {
    const facts = held();
    const again = { ...body, memberIds: [fern] };
    expect(eventKinds(rule(facts, envelopeOf("claim-task", again, fern)))).toEqual(["claim-renewed"]);
    expect(facts.get("claim", other)).toMatchObject({ lastSignAt: monday8, claimedAt: sunday8 });
    expect(rule(facts, envelopeOf("claim-task", again, fern))).toEqual(alreadySo);
  });

  test("passes to the next who asks once its lease is over, and the old holder is told", () => {
    const late = envelopeOf("claim-task", body, silas, { at: leaseEnds, seenSeq: 9 });
    expect(refusalOf(rule(held(), { ...late, deviceAt: leaseEnds - 1 })).kind).toBe("claimed-while-apart");
    const facts = held();
    expect(eventKinds(rule(facts, late))).toEqual(["claim-ended", "claim-taken"]);
    expect(facts.get("claim", other)).toMatchObject({ endedAt: leaseEnds, ending: "lapsed" });
    expect(facts.get("claim", claim)?.memberIds).toEqual([silas]);
    expect(facts.where("notice", "memberId", fern)[0]).toMatchObject({ about: "claim-lapsed", taskId: scrape });
    expect(facts.get("task", scrape)?.state).toBe("held");
  });

  test("does not lapse while its holder's timer runs on it", () => {
    const facts = held();
    const subjects = [{ pieceId: dresser, taskId: scrape, stage: "prep" as const }];
    facts.put("entry", anEntry({ id: id(401), subjects }));
    const ruling = rule(facts, envelopeOf("claim-task", body, silas, { at: leaseEnds + hourMs }));
    expect(refusalOf(ruling).kind).toBe("already-claimed");
  });
});

describe("letting go of a task", () => {
  test("frees it, with a note for the next", () => {
    const facts = held();
    const release = { taskId: scrape, note: "Left foot is done" };
    expect(eventKinds(rule(facts, envelopeOf("release-task", release, fern)))).toEqual(["claim-ended"]);
    expect(facts.get("claim", other)).toMatchObject({
      endedAt: monday8,
      ending: "released",
      note: "Left foot is done",
    });
    expect(facts.get("task", scrape)?.state).toBe("open");
    expect(rule(facts, envelopeOf("release-task", release, fern))).toEqual(alreadySo);
  });

  test("is its holder's to do", () => {
    const refusal = refusalOf(rule(held(), envelopeOf("release-task", { taskId: scrape }, hanna)));
    expect(refusal).toEqual({ kind: "not-claimed", taskId: scrape });
  });

  test("is said by a partner for another only with a reason that the holder reads", () => {
    const facts = held({ memberIds: [hanna] });
    const end = { taskId: scrape, why: "Hanna is ill this week" };
    expect(refusalOf(rule(facts, envelopeOf("end-claim", { taskId: scrape }, silas)))).toMatchObject({
      kind: "malformed",
      field: "why",
    });
    expect(refusalOf(rule(facts, envelopeOf("end-claim", end, hanna)))).toEqual({
      kind: "may-not",
      role: "helper",
      needs: ["owner", "partner"],
    });
    expect(eventKinds(rule(facts, envelopeOf("end-claim", end, silas)))).toEqual(["claim-ended"]);
    expect(facts.get("claim", other)).toMatchObject({ ending: "ended-by-owner", endedAt: monday8, note: end.why });
    expect(facts.get("task", scrape)?.state).toBe("open");
    expect(facts.where("notice", "memberId", hanna)[0]).toMatchObject({
      about: "claim-ended",
      byMemberId: silas,
      detail: { why: end.why },
    });
    expect(rule(facts, envelopeOf("end-claim", end, silas))).toEqual(alreadySo);
  });
});

describe("handing a task over", () => {
  const hand = { taskId: scrape, claimId: claim, toMemberId: silas, note: "Glue is set" };

  test("ends one claim and begins the next in one go, and the new holder is told", () => {
    const facts = held();
    const ruling = rule(facts, envelopeOf("hand-over-claim", hand, fern), monday8, { seq: 50 });
    expect(eventKinds(ruling)).toEqual(["claim-handed-over"]);
    expect(facts.get("claim", other)).toMatchObject({ endedAt: monday8, ending: "handed-over" });
    expect(facts.get("claim", claim)).toMatchObject({ memberIds: [silas], claimedAt: monday8, claimedSeq: 50 });
    expect(facts.get("task", scrape)?.state).toBe("held");
    expect(facts.where("notice", "memberId", silas)[0]).toMatchObject({ about: "claim-handed-over", byMemberId: fern });
  });

  test("is done by its holder, to somebody of the floor", () => {
    expect(refusalOf(rule(held(), envelopeOf("hand-over-claim", hand, hanna)))).toEqual({
      kind: "not-claimed",
      taskId: scrape,
    });
    const stranger = rule(held(), envelopeOf("hand-over-claim", { ...hand, toMemberId: id(99) }, fern));
    expect(refusalOf(stranger)).toEqual({ kind: "unknown-thing", field: "toMemberId" });
    const office = rule(held(), envelopeOf("hand-over-claim", { ...hand, toMemberId: bruno }, fern));
    expect(refusalOf(office)).toMatchObject({ kind: "may-not", role: "bookkeeper" });
  });
});
