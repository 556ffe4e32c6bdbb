import { limits } from "~/core/wire-limits";
import { networkOf } from "./knocks";

/** How many sockets each may have open at once. */
export const crowdLimits = {
  session: limits.socketsPerSession,
  member: limits.socketsPerMember,
  shop: limits.socketsPerShop,
  address: limits.socketsPerAddress,
};
export type CrowdLimits = { [Of in keyof typeof crowdLimits]: number };

export type Visitor = { sessionId: string; memberId?: string; shopId: string; address?: string };

/** Counts the open sockets of each session, member, shop and address. */
export class Crowd {
  private readonly counts = new Map<string, number>();

  constructor(private readonly most: CrowdLimits = crowdLimits) {}

  /** @returns how to leave again; undefined where one of the four has as many as it may */
  enter({ sessionId, memberId, shopId, address }: Visitor): (() => void) | undefined {
    const asked: [key: string, most: number][] = [
      [`session ${sessionId}`, this.most.session],
      [`shop ${shopId}`, this.most.shop],
      ...(memberId === undefined ? [] : ([[`member ${memberId}`, this.most.member]] as [string, number][])),
      ...(address === undefined ? [] : ([[`address ${networkOf(address)}`, this.most.address]] as [string, number][])),
    ];
    if (asked.some(([key, most]) => (this.counts.get(key) ?? 0) >= most)) return undefined;
    for (const [key] of asked) this.counts.set(key, (this.counts.get(key) ?? 0) + 1);
    let isInside = true;
    return () => {
      if (!isInside) return;
      isInside = false;
      for (const [key] of asked) this.leave(key);
    };
  }

  /** Of whom nobody is inside nothing is remembered. */
  get size(): number {
    return this.counts.size;
  }

  private leave(key: string): void {
    const count = (this.counts.get(key) ?? 0) - 1;
    if (count > 0) this.counts.set(key, count);
    else this.counts.delete(key);
  }
}
