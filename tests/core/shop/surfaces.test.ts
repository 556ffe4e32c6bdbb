import { expect, test } from "vitest";
import { dayMs } from "~/core/units";
import {
  alreadySo,
  aPair,
  aPiece,
  aSurface,
  dresser,
  envelopeOf,
  fern,
  hanna,
  id,
  monday8,
  refusalOf,
  rule,
  shopWith,
  silas,
  top,
} from "../support/shop";

const drawer = id(105);
const carcass = id(107);

test("a surface is added bare, with nothing known of bleeding, unless that is said", () => {
  const facts = shopWith({ piece: [aPiece()] });
  const body = { surfaceId: top, pieceId: dresser, name: "Top", squareDecimetres: 60 };
  rule(facts, envelopeOf("add-surface", body, hanna));
  expect(facts.get("surface", top)).toEqual({
    id: top,
    pieceId: dresser,
    name: "Top",
    squareDecimetres: 60,
    substrate: "bare",
    isPaleWanted: false,
    bleedRisk: "unknown",
  });
});

test("no surface is added to a piece that has left, or that never was", () => {
  const body = { surfaceId: top, pieceId: dresser, name: "Top", squareDecimetres: 60 };
  const left = shopWith({ piece: [aPiece({ archivedAt: monday8 - dayMs })] });
  expect(refusalOf(rule(left, envelopeOf("add-surface", body, fern)))).toEqual({
    kind: "after-it-left",
    thing: "K-201",
    happenedAt: monday8,
    leftAt: monday8 - dayMs,
  });
  expect(refusalOf(rule(shopWith(), envelopeOf("add-surface", body, fern)))).toEqual({
    kind: "unknown-thing",
    field: "pieceId",
  });
});

test.each([
  ["name", "Top", "Table top"],
  ["squareDecimetres", 60, 65],
  ["wood", undefined, "oak"],
  ["substrate", "bare", "veneer"],
  ["veneerMicrometres", undefined, 600],
  ["isPaleWanted", false, true],
  ["bleedRisk", "no", "yes"],
] as const)("a partner changes a surface's %s", (field, was, value) => {
  const facts = shopWith({ piece: [aPiece()], surface: [aSurface()] });
  rule(facts, envelopeOf("edit-surface", { surfaceId: top, field, was, value }, silas));
  expect(facts.get("surface", top)?.[field]).toBe(value);
});

test("the wood of a surface can be unsaid", () => {
  const facts = shopWith({ piece: [aPiece()], surface: [aSurface({ wood: "oak" })] });
  rule(facts, envelopeOf("edit-surface", { surfaceId: top, field: "wood", was: "oak" }, silas));
  expect(facts.get("surface", top)).not.toHaveProperty("wood");
});

test("a surface is edited by partners, against what it is now, and only if it is there", () => {
  const facts = shopWith({ piece: [aPiece()], surface: [aSurface()] });
  const edit = { surfaceId: top, field: "squareDecimetres", was: 50, value: 70 };
  expect(refusalOf(rule(facts, envelopeOf("edit-surface", edit, hanna)))).toMatchObject({
    kind: "may-not",
    role: "helper",
  });
  expect(refusalOf(rule(facts, envelopeOf("edit-surface", edit, fern)))).toEqual({
    kind: "changed-meanwhile",
    field: "squareDecimetres",
    was: 50,
    theirs: 60,
  });
  expect(refusalOf(rule(facts, envelopeOf("edit-surface", { ...edit, surfaceId: id(99) }, fern)))).toEqual({
    kind: "unknown-thing",
    field: "surfaceId",
  });
});

const withFaces = (pair = [] as ReturnType<typeof aPair>[]) =>
  shopWith({
    piece: [aPiece()],
    surface: [aSurface(), aSurface({ id: drawer, name: "Drawer" }), aSurface({ id: carcass, name: "Carcass" })],
    pair,
  });
const onePair = { pairId: id(104), surfaceA: top, surfaceB: drawer, sort: "assembled" };

test("faces that will lie on each other start apart", () => {
  const facts = withFaces();
  rule(facts, envelopeOf("set-pairs", { pairs: [onePair] }, silas));
  expect(facts.get("pair", id(104))).toEqual({
    id: id(104),
    pieceId: dresser,
    surfaceA: top,
    surfaceB: drawer,
    sort: "assembled",
    isApart: true,
    spacer: "none",
    changedAt: monday8,
  });
});

test("a pair is the same whichever face is named first: it is kept, pressed together as it is, and takes a new sort", () => {
  const facts = withFaces([aPair({ isApart: false })]);
  const turned = { pairId: id(108), surfaceA: drawer, surfaceB: top, sort: "assembled" };
  expect(rule(facts, envelopeOf("set-pairs", { pairs: [turned] }, silas))).toEqual(alreadySo);
  rule(facts, envelopeOf("set-pairs", { pairs: [{ ...turned, sort: "leaf" }] }, silas));
  expect(facts.all("pair")).toEqual([aPair({ isApart: false, sort: "leaf" })]);
});

test.each([
  [
    "a face with itself",
    [{ ...onePair, surfaceB: top }],
    { kind: "malformed", field: "pairs.0", expected: "two different surfaces" },
  ],
  [
    "the same two faces twice",
    [onePair, { pairId: id(108), surfaceA: drawer, surfaceB: top, sort: "leaf" }],
    { kind: "malformed", field: "pairs.1", expected: "each pair once" },
  ],
  [
    "other faces under the id of a pair",
    [{ ...onePair, surfaceB: carcass }],
    { kind: "malformed", field: "pairs.0", expected: "each pair once" },
  ],
  [
    "a face that is not there",
    [{ ...onePair, surfaceB: id(99) }],
    { kind: "unknown-thing", field: "pairs.0.surfaceB" },
  ],
])("no pair is made of %s", (_, pairs, expected) => {
  expect(refusalOf(rule(withFaces([aPair()]), envelopeOf("set-pairs", { pairs }, silas)))).toEqual(expected);
});
