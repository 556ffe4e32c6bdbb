import { isIPv6 } from "node:net";
import type { InstantMs } from "~/core/units";
import type { Allowance } from "~/core/wire-limits";
import { Rate } from "./rate";

/** Whoever knocks from more networks than this is forgotten in the order of their last knock. */
const mostRemembered = 10_000;

/** How often each network may knock. Nothing but counts is kept, and that not for long. */
export class Knocks {
  private readonly rateByNetwork = new Map<string, Rate>();

  constructor(private readonly allowance: Allowance) {}

  /** @returns false where too many came from there lately */
  take(address: string, now: InstantMs, times = 1): boolean {
    const network = networkOf(address);
    const rate = this.rateByNetwork.get(network) ?? new Rate(this.allowance, now);
    this.rateByNetwork.delete(network);
    this.rateByNetwork.set(network, rate);
    if (this.rateByNetwork.size > mostRemembered) {
      const [oldest = ""] = this.rateByNetwork.keys();
      this.rateByNetwork.delete(oldest);
    }
    return rate.take(times, now);
  }

  get size(): number {
    return this.rateByNetwork.size;
  }
}

/**
 * The part of an address that one customer of a provider holds: of IPv6 the first 64 bits (RFC 6177 gives a site no less),
 * of IPv4 all of it.
 */
export function networkOf(address: string): string {
  const ofVersion4 = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1];
  if (ofVersion4 || !isIPv6(address)) return ofVersion4 ?? address;
  const [head = "", tail = ""] = (address.split("%")[0] as string).toLowerCase().split("::");
  const groups = (text: string) => text.split(":").filter((group) => group !== "");
  const [first, last] = [groups(head), groups(tail)];
  const all = [...first, ...Array.from({ length: Math.max(0, 8 - first.length - last.length) }, () => "0"), ...last];
  return all
    .slice(0, 4)
    .map((group) => group.replace(/^0+(?=.)/, ""))
    .join(":");
}
