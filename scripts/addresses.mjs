import { BlockList, isIP } from "node:net";
import os from "node:os";

// The names and addresses under which the shop's own devices reach this machine.

/**
 * Address ranges that never belong to a site on the internet, and that the local authority therefore may speak for.
 * Sources: RFC 1918, RFC 3927, RFC 6598 (shared, used by private overlays), RFC 4193, RFC 4291.
 */
export const privateRanges = [
  "10.0.0.0/8",
  "172.16.0.0/12",
  "192.168.0.0/16",
  "169.254.0.0/16",
  "100.64.0.0/10",
  "127.0.0.0/8",
  "fc00::/7",
  "fe80::/10",
  "::1/128",
];

const privateAddresses = new BlockList();
for (const range of privateRanges) {
  const [address = "", prefixBits] = range.split("/");
  privateAddresses.addSubnet(address, Number(prefixBits), isIP(address) === 6 ? "ipv6" : "ipv4");
}

/** @param {string} address */
export const isPrivate = (address) => privateAddresses.check(address, isIP(address) === 6 ? "ipv6" : "ipv4");

/**
 * This machine's IPv4 addresses. Every phone speaks IPv4 in a house, and IPv6 addresses change with the day, which would
 * ask for a new certificate each time.
 */
export function networkAddresses() {
  return Object.values(os.networkInterfaces())
    .flatMap((network) => network ?? [])
    .filter(({ internal, family }) => !internal && family === "IPv4")
    .map(({ address }) => address)
    .sort((one, other) => Number(isPrivate(other)) - Number(isPrivate(one)));
}

/** This machine's names: its own, the one that devices find without a name server, and localhost. */
export function hostNames() {
  const short = (os.hostname().split(".")[0] ?? "").toLowerCase();
  const isName = /^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$/.test(short); // a label of RFC 1123; some machines are called worse
  return isName && short !== "localhost" ? ["localhost", short, `${short}.local`] : ["localhost"];
}
