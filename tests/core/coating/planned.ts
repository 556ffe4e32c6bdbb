/** A finish schedule from what a test cares about: families from the wood up, on sheets of the generic types. */
import { genericSheet } from "~/core/coating/generic-sheets";
import type { Finding, FindingKind, FindingOf, Layer, Patch, Schedule } from "~/core/coating/schedule-findings";
import type { Family } from "~/core/shop/entities/products";
import type { HandTest, Sheet } from "~/core/shop/tables";
import { aSurface, dresser, fern, id, monday8, top } from "../support/shop";

let coats = 0;

export const coatOf = (family: Family, more: Partial<Layer> & { on?: Partial<Sheet> } = {}): Layer => {
  coats += 1;
  const { on, ...rest } = more;
  const productId = `product ${family}`;
  const start = genericSheet(family);
  if (!start) throw new Error(`${family} leaves no film`);
  const sheet: Sheet = { ...start, id: id(5000 + coats), productId, version: 1, ...on };
  return { coatId: `${family} ${coats}`, sheet, family, productId, isLaid: false, ...rest };
};

export const laid = (family: Family, more: Partial<Layer> = {}): Layer => coatOf(family, { isLaid: true, ...more });

type Plan = Omit<Partial<Schedule>, "surface"> & { surface?: Partial<Schedule["surface"]> };

export const scheduleOf = (layers: readonly Layer[], { surface, ...more }: Plan = {}): Schedule => ({
  surface: aSurface(surface),
  layers,
  patches: [],
  isFaceToFace: false,
  beside: [],
  isScuffPlanned: false,
  ...more,
});

export const patch = (
  result: HandTest["result"],
  at: number = monday8,
  of: { productId?: string; barrierProductId?: string; mayOpen?: boolean; takenBackAt?: number } = {},
): Patch => {
  const { productId = "product water-borne-paint", barrierProductId, mayOpen = true, takenBackAt } = of;
  coats += 1;
  const subject = { of: "patch" as const, surfaceId: top, productId, ...(barrierProductId && { barrierProductId }) };
  return {
    test: {
      id: id(6000 + coats),
      pieceId: dresser,
      subject,
      kind: "bleed-patch",
      at,
      by: fern,
      result,
      ...(takenBackAt !== undefined && { takenBackAt }),
    },
    mayOpen,
  };
};

export const kindsOf = (findings: readonly Finding[]) => findings.map(({ kind, level }) => `${kind} ${level}`);

export const only = <Kind extends FindingKind>(findings: readonly Finding[], kind: Kind): FindingOf<Kind> => {
  const found = findings.filter((finding) => finding.kind === kind);
  if (found.length !== 1) throw new Error(`${found.length} findings of ${kind} in ${kindsOf(findings).join(", ")}`);
  return found[0] as FindingOf<Kind>;
};
