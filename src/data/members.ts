import type { Member, Shop } from "~/core/shop/tables";
import { database } from "./db";
import { findRows } from "./rows";

export const membersOf = async (shopId: string): Promise<Member[]> =>
  (await findRows(database(), "member", { shopId })).map(({ row }) => row);

export const memberById = async (shopId: string, id: string): Promise<Member | undefined> =>
  (await findRows(database(), "member", { shopId, id }))[0]?.row;

export const shopById = async (shopId: string): Promise<Shop | undefined> =>
  (await findRows(database(), "shop", { shopId }))[0]?.row;
