import { subjectsByKind } from "~/core/cure/test-subject";
import type { Family } from "~/core/shop/entities/products";
import type { TestKind } from "~/core/shop/entities/tests";
import type { Facts } from "~/core/shop/facts";
import type { HandTest, Product } from "~/core/shop/tables";

export type TestSubject = HandTest["subject"];
export type SubjectChoice = { id: string; words: string; told: TestSubject };

/** What of a piece a kind of test can be made on, as it is chosen: faces, faces that touch, joints. */
export function subjectChoices(facts: Facts, pieceId: string, kind: TestKind | undefined): SubjectChoice[] {
  const possible = kind ? subjectsByKind[kind] : ["surface"];
  const surfaces = facts.where("surface", "pieceId", pieceId);
  const nameOf = (id: string) => surfaces.find((surface) => surface.id === id)?.name ?? "another face";
  const of: TestSubject["of"] = possible.includes("washed") ? "washed" : "surface";
  const faces = surfaces.map(
    ({ id, name }): SubjectChoice => ({
      id,
      words: name,
      told: of === "washed" ? { of, surfaceId: id } : { of: "surface", surfaceId: id },
    }),
  );
  const touching = facts.where("pair", "pieceId", pieceId).map(
    (pair): SubjectChoice => ({
      id: pair.id,
      words: `${nameOf(pair.surfaceA)} against ${nameOf(pair.surfaceB)}`,
      told: { of: "pair", pairId: pair.id },
    }),
  );
  const joints = facts
    .where("joint", "pieceId", pieceId)
    .filter((joint) => joint.verdict?.result !== "failed")
    .map((joint): SubjectChoice => ({ id: joint.id, words: joint.name, told: { of: "joint", jointId: joint.id } }));
  if (possible.includes("joint")) return joints;
  return possible.includes("pair") ? [...touching, ...faces] : faces;
}

const barrierFamilies: readonly Family[] = ["shellac-blocker", "shellac", "water-borne-blocker"];
const paleFamilies: readonly Family[] = ["water-borne-paint", "chalk-paint", "milk-paint", "water-borne-clear"];

const inUse = (product: Product) => product.retiredAt === undefined;

/** Products a bleed patch may be of: first what is planned on the face, then every other that shows a stain. */
export function patchProducts(facts: Facts, surfaceId: string): Product[] {
  const surface = facts.get("surface", surfaceId);
  const planned = (surface ? facts.where("coat", "pieceId", surface.pieceId) : [])
    .filter((coat) => coat.surfaceId === surfaceId && coat.state === "planned")
    .flatMap((coat) => facts.get("sheet", coat.sheetId)?.productId ?? [])
    .flatMap((productId) => facts.get("product", productId) ?? [])
    .filter(({ family }) => !barrierFamilies.includes(family));
  const others = facts.all("product").filter((product) => inUse(product) && paleFamilies.includes(product.family));
  return [...new Set([...planned, ...others])];
}

export const patchBarriers = (facts: Facts): Product[] =>
  facts.all("product").filter((product) => inUse(product) && barrierFamilies.includes(product.family));
