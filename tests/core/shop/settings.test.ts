import { expect, test } from "vitest";
import { bruno, envelopeOf, fern, hanna, refusalOf, rule, shopId, shopWith, silas } from "../support/shop";

const set = (key: string, was: unknown, value: unknown, by = fern, facts = shopWith()) => ({
  facts,
  ruling: rule(facts, envelopeOf("set-shop", { key, was, value }, by)),
});

test.each([
  ["name", "Mill Lane Furniture", "Mill Lane Workshop"],
  ["zone", "America/New_York", "America/Chicago"],
  ["country", "US", "CA"],
  ["currency", "USD", "CAD"],
  ["weekStartsOn", 1, 7],
  ["leaseMin", 4320, 2880],
  ["leaseAskMin", 1440, 720],
  ["helperTestOpens", false, true],
  ["partnersSeeHours", true, false],
  ["tabletRecheckMin", 60, 15],
  ["leadBanYear", 1978, 1992],
  ["swabSuffices", undefined, true],
  ["likelyCap", undefined, 1.5],
  ["stressedClampMin", undefined, 720],
  ["chalkGraceMin", undefined, 0],
] as const)("the owner sets the shop's %s", (key, was, value) => {
  const { facts, ruling } = set(key, was, value);
  expect(ruling.events.map((event) => event.kind)).toEqual(["setting-changed"]);
  expect(facts.get("shop", shopId)?.[key]).toBe(value);
});

test("the bookkeeper says on which day the week starts, and nothing else", () => {
  const week = set("weekStartsOn", 1, 7, bruno);
  expect(week.facts.get("shop", shopId)?.weekStartsOn).toBe(7);
  const lease = set("leaseMin", 4320, 60, bruno);
  expect(refusalOf(lease.ruling)).toEqual({ kind: "may-not", role: "bookkeeper", needs: ["owner"] });
});

test.each([
  ["partner", silas],
  ["helper", hanna],
])("a %s does not set the shop up", (_, by) => {
  expect(refusalOf(set("name", "Mill Lane Furniture", "Ours", by).ruling)).toMatchObject({
    kind: "may-not",
    needs: ["owner", "bookkeeper"],
  });
});

test("a setting that somebody changed meanwhile shows theirs; one that is so already needs nothing", () => {
  const { facts } = set("leaseMin", 4320, 2880);
  expect(refusalOf(set("leaseMin", 4320, 1440, fern, facts).ruling)).toEqual({
    kind: "changed-meanwhile",
    field: "leaseMin",
    was: 4320,
    theirs: 2880,
  });
  expect(set("leaseMin", 4320, 2880, fern, facts).ruling).toEqual({ verdict: "accepted", events: [] });
});

test("the shop's zone is one that the time zone data knows", () => {
  expect(refusalOf(set("zone", "America/New_York", "-05:00").ruling)).toEqual({
    kind: "malformed",
    field: "zone",
    expected: "an IANA time zone",
  });
});

test("nobody is asked about a claim before they could have taken it", () => {
  expect(refusalOf(set("leaseAskMin", 1440, 4321).ruling)).toEqual({
    kind: "out-of-bounds",
    field: "leaseAskMin",
    found: 4321,
    min: 0,
    max: 4320,
    unit: "min",
  });
  expect(refusalOf(set("leaseMin", 4320, 1439).ruling)).toEqual({
    kind: "out-of-bounds",
    field: "leaseMin",
    found: 1439,
    min: 1440,
    max: 43_200,
    unit: "min",
  });
});

test("a week does not start on an eighth day, and there is no setting that we do not know", () => {
  expect(refusalOf(set("weekStartsOn", 1, 8).ruling)).toMatchObject({ kind: "out-of-bounds", found: 8, max: 7 });
  expect(refusalOf(set("wages", 1, 8).ruling)).toMatchObject({ kind: "malformed", field: "key" });
});
