import type { X509Certificate } from "node:crypto";
import type { IncomingMessage } from "node:http";

/** So many different sites are told of in the log; whoever knocks from more is not looking for this shop. */
const mostTold = 20;

type OriginsKnown = {
  /** Addresses under which this site is served, and others whose pages may act here. */
  addresses: readonly string[];
  /** Only programs leave the origin out of what changes something; browsers always say it. */
  mayBeAbsent?: boolean;
  /** Called once for each site that is turned away. */
  turnedAway?: (origin: string) => void;
};

/**
 * The sites whose pages may act here with a member's cookie, which travels with requests and sockets of other sites too.
 * Known from the start: what a request says of its own host is no proof, because its sender chose the name.
 */
export class Origins {
  private readonly known: ReadonlySet<string>;
  private readonly told = new Set<string>();

  constructor(private readonly parts: OriginsKnown) {
    this.known = new Set(parts.addresses.map((address) => new URL(address).origin));
  }

  admits({ headers: { origin } }: Pick<IncomingMessage, "headers">): boolean {
    if (origin === undefined) return this.parts.mayBeAbsent ?? false;
    // a page without a site of its own ("null") is nobody's
    if (URL.canParse(origin) && this.known.has(new URL(origin).origin)) return true;
    if (this.told.size < mostTold && !this.told.has(origin)) {
      this.told.add(origin);
      this.parts.turnedAway?.(origin);
    }
    return false;
  }
}

/** The addresses that a certificate speaks for, on this port. One for a whole domain names none of its hosts. */
export function certifiedAddresses(
  { subjectAltName }: Pick<X509Certificate, "subjectAltName">,
  port: number,
): string[] {
  const names = (subjectAltName ?? "").split(", ").flatMap((name) => {
    const [, sort, value] = /^(DNS|IP Address):(.+)$/.exec(name) ?? [];
    if (!value || value.includes("*")) return [];
    return sort === "IP Address" && value.includes(":") ? [`[${value}]`] : [value];
  });
  return names.map((name) => `https://${name}:${port}`).filter((address) => URL.canParse(address));
}
