import * as z from "zod/mini";
import { isZone } from "../../calendar";
import { count, quantity } from "../../units";
import { type Context, defineIntent, refused } from "../define";
import { type Role, shopRow } from "../entities/people";
import { editField } from "../field-edit";
import type { Refusal } from "../refusal";

const { shape } = shopRow;
const was = z.optional(z.unknown());

const settingBody = z.discriminatedUnion("key", [
  z.object({ key: z.literal("name"), was, value: shape.name }),
  z.object({ key: z.literal("zone"), was, value: shape.zone }),
  z.object({ key: z.literal("country"), was, value: shape.country }),
  z.object({ key: z.literal("currency"), was, value: shape.currency }),
  z.object({ key: z.literal("weekStartsOn"), was, value: shape.weekStartsOn }),
  z.object({ key: z.literal("leaseMin"), was, value: shape.leaseMin }),
  z.object({ key: z.literal("leaseAskMin"), was, value: shape.leaseAskMin }),
  z.object({ key: z.literal("helperTestOpens"), was, value: shape.helperTestOpens }),
  z.object({ key: z.literal("partnersSeeHours"), was, value: shape.partnersSeeHours }),
  z.object({ key: z.literal("tabletRecheckMin"), was, value: shape.tabletRecheckMin }),
  z.object({ key: z.literal("leadBanYear"), was, value: shape.leadBanYear }),
  z.object({ key: z.literal("swabSuffices"), was, value: z.boolean() }),
  z.object({ key: z.literal("likelyCap"), was, value: quantity("likelyCap") }),
  z.object({ key: z.literal("stressedClampMin"), was, value: quantity("durationMin") }),
  z.object({ key: z.literal("chalkGraceMin"), was, value: count(0, 1440) }),
]);
type SettingBody = z.infer<typeof settingBody>;

/** The weeks are the bookkeeper's business too; all else is the owner's. */
const weekKeys: readonly string[] = ["weekStartsOn"];
const office: readonly Role[] = ["owner", "bookkeeper"];

export const setShop = defineIntent({
  kind: "set-shop",
  sort: "word",
  who: office,
  body: settingBody,
  reads: () => [],
  judge: (c) => {
    const { key, ...edit } = c.body;
    if (c.role === "bookkeeper" && !weekKeys.includes(key)) {
      return refused({ kind: "may-not", role: c.role, needs: ["owner"] });
    }
    const unfit = unfitness(c);
    if (unfit) return refused(unfit);
    return editField({ ...c, body: { field: key, ...edit } }, "shop", c.shop, { kind: "setting-changed" });
  },
});

function unfitness({ body, shop }: Context<SettingBody>): Refusal | undefined {
  if (body.key === "zone" && !isZone(body.value)) {
    return { kind: "malformed", field: "zone", expected: "an IANA time zone" };
  }
  // whoever holds a task is asked before it lapses, not before they took it
  if (body.key === "leaseAskMin" && body.value > shop.leaseMin) {
    return { kind: "out-of-bounds", field: "leaseAskMin", found: body.value, min: 0, max: shop.leaseMin, unit: "min" };
  }
  if (body.key === "leaseMin" && body.value < shop.leaseAskMin) {
    return {
      kind: "out-of-bounds",
      field: "leaseMin",
      found: body.value,
      min: shop.leaseAskMin,
      max: 43_200,
      unit: "min",
    };
  }
  return undefined;
}
