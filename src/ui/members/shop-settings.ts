/** The shop's settings while they are changed, and the intents that come of it. */
import type { Shop } from "~/core/shop/tables";

export type ShopDraft = Omit<Shop, "id">;
export type ShopKey = keyof ShopDraft;

/** One change per setting, with what it was, so that two owners do not overwrite each other unseen. */
export function shopChanges(shop: Shop, draft: ShopDraft): { key: ShopKey; was: unknown; value: unknown }[] {
  const keys = Object.keys(draft) as ShopKey[];
  const changes = keys
    .filter((key) => shop[key] !== draft[key])
    .map((key) => ({ key, was: shop[key], value: draft[key] }));
  // the reminder may never lie beyond the lease: on the way down it goes first, on the way up last
  const isLeaseShorter = draft.leaseMin < shop.leaseMin;
  const place = ({ key }: { key: ShopKey }) => (key === "leaseAskMin" ? (isLeaseShorter ? -1 : 1) : 0);
  return changes.sort((one, other) => place(one) - place(other));
}

/** The figure that is missing, in words. */
export function settingMissing(draft: ShopDraft): string | undefined {
  if (draft.name.trim() === "") return "Write the shop’s name.";
  if ([draft.leaseMin, draft.leaseAskMin].some(Number.isNaN)) return "Write both times of a claim.";
  if (Number.isNaN(draft.tabletRecheckMin)) return "Write how long the tablet keeps somebody’s name.";
  if ([draft.likelyCap, draft.chalkGraceMin].some(Number.isNaN))
    return "Write the figures for warmth and for cold glue.";
  return Number.isNaN(draft.leadBanYear) ? "Write the year." : undefined;
}
