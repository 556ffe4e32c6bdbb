import type { Facts } from "~/core/shop/facts";
import type { HandTest } from "~/core/shop/tables";

/** What was tested, as one would point at it: "fronts against body", "old paint, second layer". */
export function testedWords(facts: Facts, { subject }: HandTest): string {
  const face = (id: string | undefined) => (id && facts.get("surface", id)?.name.toLowerCase()) || "a face";
  switch (subject.of) {
    case "surface":
    case "washed":
      return face(subject.surfaceId);
    case "paint-layer":
      return `old paint, ${subject.layer}`;
    case "joint":
      return facts.get("joint", subject.jointId)?.name.toLowerCase() ?? "a joint";
    case "can":
      return facts.get("can", subject.canId)?.label ?? "a can";
    case "pair": {
      const pair = facts.get("pair", subject.pairId);
      return `${face(pair?.surfaceA)} against ${face(pair?.surfaceB)}`;
    }
    case "patch": {
      const name = (id: string | undefined) => (id ? facts.get("product", id)?.name : undefined);
      const barrier = name(subject.barrierProductId);
      return `${face(subject.surfaceId)}, ${name(subject.productId) ?? "a patch"}${barrier ? ` over ${barrier}` : ""}`;
    }
  }
}

/** ", 11.5 %" or ", 8420 g" after a test with a scale. */
export const measuredWords = ({ measured }: HandTest): string =>
  measured ? `, ${measured.value} ${measured.unit === "gram" ? "g" : "%"}` : "";
