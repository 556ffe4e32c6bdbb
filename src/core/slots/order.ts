/** Who waits for whom. */
import type { Coat } from "./problem";

/** Coats in an order in which each comes after those it waits for; coats in a circle are left out. */
export function inOrder(coats: readonly Coat[]): Coat[] {
  const waiting = new Map(coats.map((coat) => [coat, 0]));
  for (const coat of coats)
    for (const { coat: later } of coat.awaitedBy) waiting.set(later, (waiting.get(later) ?? 0) + 1);
  const free = coats.filter((coat) => waiting.get(coat) === 0).reverse();
  const order: Coat[] = [];
  for (let coat = free.pop(); coat; coat = free.pop()) {
    order.push(coat);
    for (const { coat: later } of [...coat.awaitedBy].reverse()) {
      const left = (waiting.get(later) as number) - 1;
      waiting.set(later, left);
      if (left === 0) free.push(later);
    }
  }
  return order;
}
