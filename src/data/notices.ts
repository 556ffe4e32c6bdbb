import type { Notice } from "~/core/shop/tables";
import { database } from "./db";
import { findRows } from "./rows";

/** What a member has not been shown yet, the oldest first. */
export async function unseenNotices(shopId: string, memberId: string): Promise<Notice[]> {
  return (await findRows(database(), "notice", { shopId, memberId, seenAt: null })).map(({ row }) => row);
}
