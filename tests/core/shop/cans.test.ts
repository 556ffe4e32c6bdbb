import { describe, expect, test } from "vitest";
import { dayMs, hourMs } from "~/core/units";
import {
  aCan,
  alreadySo,
  aProduct,
  aSheet,
  bruno,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  paint,
  type Rows,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const can = id(201);
const added = { canId: can, productId: paint, label: "S-1", filledMillilitres: 1000, isLabelled: true };
const shelf = (rows: Rows = {}) => shopWith({ product: [aProduct()], sheet: [aSheet()], ...rows });

describe("a can", () => {
  test("stands on the shelf once somebody of the floor has written it down", () => {
    const facts = shelf();
    expect(eventKinds(rule(facts, envelopeOf("add-can", { ...added, openedOn: "2016-10-28" }, hanna)))).toEqual([
      "can-added",
    ]);
    expect(facts.get("can", can)).toEqual(aCan({ openedOn: "2016-10-28" }));
    expect(rule(facts, envelopeOf("add-can", added, hanna))).toEqual(alreadySo);
  });

  test("is of a product that the shop knows, and was not opened tomorrow", () => {
    expect(refusalOf(rule(shopWith(), envelopeOf("add-can", added, fern)))).toEqual({
      kind: "unknown-thing",
      field: "productId",
    });
    const tomorrow = { ...added, openedOn: "2026-10-27" };
    expect(refusalOf(rule(shelf(), envelopeOf("add-can", tomorrow, fern)))).toMatchObject({ kind: "in-the-future" });
  });

  test("is not for the bookkeeper to fill, open or count", () => {
    for (const [kind, body] of [
      ["add-can", added],
      ["open-can", { canId: can }],
      ["count-can", { canId: can, millilitres: 3 }],
      ["empty-can", { canId: can }],
    ] as const)
      expect(refusalOf(rule(shelf({ can: [aCan()] }), envelopeOf(kind, body, bruno)))).toMatchObject({
        kind: "may-not",
      });
  });

  test("is open from the first day that anybody names", () => {
    const facts = shelf({ can: [aCan()] });
    rule(facts, envelopeOf("open-can", { canId: can }, silas));
    expect(facts.get("can", can)?.openedOn).toBe("2026-10-26");
    rule(facts, envelopeOf("open-can", { canId: can, openedOn: "2026-10-20" }, silas));
    expect(facts.get("can", can)?.openedOn).toBe("2026-10-20");
    expect(rule(facts, envelopeOf("open-can", { canId: can, openedOn: "2026-10-24" }, silas))).toEqual(alreadySo);
    const tomorrow = envelopeOf("open-can", { canId: can, openedOn: "2026-10-27" }, silas);
    expect(refusalOf(rule(facts, tomorrow))).toMatchObject({ kind: "in-the-future" });
  });

  test("keeps its latest count, in whatever order the counts arrive", () => {
    const facts = shelf({ can: [aCan()] });
    const count = (millilitres: number, happenedAt: number) =>
      rule(facts, envelopeOf("count-can", { canId: can, millilitres }, fern, { happenedAt }));
    count(400, monday8 - hourMs);
    expect(count(600, monday8 - dayMs)).toEqual(alreadySo);
    expect(facts.get("can", can)?.counted).toEqual({ at: monday8 - hourMs, millilitres: 400 });
    count(0, monday8);
    expect(facts.get("can", can)?.counted).toEqual({ at: monday8, millilitres: 0 });
  });

  test("that is empty is over: it is neither opened nor counted again", () => {
    const facts = shelf({ can: [aCan()] });
    rule(facts, envelopeOf("empty-can", { canId: can }, hanna));
    expect(facts.get("can", can)?.emptiedAt).toBe(monday8);
    expect(rule(facts, envelopeOf("empty-can", { canId: can }, hanna))).toEqual(alreadySo);
    for (const [kind, body] of [
      ["open-can", { canId: can }],
      ["count-can", { canId: can, millilitres: 3 }],
    ] as const)
      expect(refusalOf(rule(facts, envelopeOf(kind, body, hanna)))).toEqual({ kind: "unknown-thing", field: "canId" });
    expect(refusalOf(rule(facts, envelopeOf("empty-can", { canId: id(299) }, hanna)))).toEqual({
      kind: "unknown-thing",
      field: "canId",
    });
  });
});
