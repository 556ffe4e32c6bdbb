import { expect, test } from "vitest";
import { leadState, mustDiscloseLead } from "~/core/safety/lead";
import {
  aPiece,
  aTask,
  envelopeOf,
  fern,
  hanna,
  id,
  refusalOf,
  rule,
  shopWith,
  silas,
  theShop,
} from "../../support/shop";
import { at } from "./demo-floor";

// scenario 18
test("old paint of unknown age locks dry sanding; a positive layer keeps it locked for everybody, and told hours stay", () => {
  const [k206, sanding] = [id(0x206), id(201)];
  const facts = shopWith({
    piece: [aPiece({ id: k206, number: "K-206", stage: "prep", isPainted: "yes" })],
    task: [aTask({ id: sanding, pieceId: k206, title: "Sand the sides", methods: ["dry-sand"] })],
  });
  const claim = (by: string, when: string) =>
    refusalOf(
      rule(
        facts,
        envelopeOf("claim-task", { claimId: id(301), taskId: sanding, memberIds: [by] }, by, { at: at(when) }),
      ),
    );
  const locked = (state: string) => ({
    kind: "lead-locked",
    leadState: state,
    methods: ["dry-sand"],
    // 16 CFR 1303: the United States ban of 1978
    banYear: 1978,
    subjectIds: [k206],
  });
  const subjects = [{ pieceId: k206, taskId: sanding }];
  const start = (when: string) =>
    rule(facts, envelopeOf("start-timer", { entryId: id(401), subjects, workKind: "bench" }, hanna, { at: at(when) }));
  expect(claim(hanna, "10-27 09:00 EDT")).toEqual(locked("unknown"));
  expect(refusalOf(start("10-27 09:00 EDT"))).toEqual(locked("unknown"));

  const swab = (testId: string, layer: string, result: string, when: string) =>
    envelopeOf(
      "record-test",
      { testId, pieceId: k206, subject: { of: "paint-layer", layer }, kind: "lead-swab", result },
      silas,
      { at: at(when) },
    );
  rule(facts, swab(id(601), "White, top", "pass", "10-27 10:00 EDT"));
  // every layer that was named is screened: still no dry sanding, a swab only screens
  expect(claim(hanna, "10-27 10:05 EDT")).toEqual(locked("screened-negative"));
  rule(facts, swab(id(602), "Green, second", "fail", "10-27 10:10 EDT"));
  for (const by of [hanna, silas, fern]) expect(claim(by, "10-27 10:15 EDT")).toEqual(locked("positive"));

  const sanded = {
    entryId: id(402),
    memberId: hanna,
    startedAt: at("10-27 08:00 EDT"),
    endedAt: at("10-27 08:45 EDT"),
    workKind: "bench",
    subjects,
  };
  const told = rule(facts, envelopeOf("add-entry", sanded, hanna, { at: at("10-27 10:20 EDT") }));
  expect(told.verdict).toBe("accepted");
  expect(facts.get("entry", id(402))?.endedAt).toBe(at("10-27 08:45 EDT"));

  const piece = facts.get("piece", k206);
  if (!piece) throw new Error("K-206 is missing");
  const state = leadState(piece, facts.where("test", "pieceId", k206), theShop.leadBanYear, at("10-27 12:00 EDT"));
  expect([state, mustDiscloseLead(state)]).toEqual(["positive", true]);
});
