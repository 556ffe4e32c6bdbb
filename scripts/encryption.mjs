import path from "node:path";
import { hostNames, networkAddresses } from "./addresses.mjs";
import { localCertificate } from "./certificate.mjs";
import { givenCertificate } from "./given-certificate.mjs";

/**
 * What the server needs to speak https, or an empty environment where it speaks http to this machine alone.
 * @param {import("./settings.mjs").Settings} settings
 * @param {Record<string, string | undefined>} env
 * @returns {Promise<{ TLS_CERT?: string, TLS_KEY?: string, TACKFREE_AUTHORITY_CERT?: string }>}
 */
export async function encryption(settings, env) {
  const now = Date.now();
  const given = givenCertificate({ certificateFile: env.TLS_CERT, keyFile: env.TLS_KEY }, now);
  if (given) return { TLS_CERT: path.resolve(given.certificateFile), TLS_KEY: path.resolve(given.keyFile) };
  if (!settings.isLan) return {};
  const hosts = [...hostNames(), "127.0.0.1", ...networkAddresses()];
  const made = await localCertificate(path.join(settings.dataFolder, "authority"), hosts, now);
  if (made.isNewAuthority) console.log("A new local authority was made: each phone must trust it once (see below).");
  return {
    TLS_CERT: made.server.certificateFile,
    TLS_KEY: made.server.keyFile,
    TACKFREE_AUTHORITY_CERT: made.authorityFile,
  };
}

/**
 * Where people find the server, the address for everybody first.
 * @param {import("./settings.mjs").Settings} settings
 * @param {boolean} isEncrypted
 */
export function addressesOf(settings, isEncrypted) {
  const scheme = isEncrypted ? "https" : "http";
  const hosts = settings.isLan ? [...networkAddresses(), ...hostNames().reverse()] : ["localhost"];
  return hosts.map((host) => `${scheme}://${host}:${settings.port}`);
}

/**
 * Every address under which a device reaches this server, for telling its own pages from those of other sites.
 * @param {import("./settings.mjs").Settings} settings
 * @param {boolean} isEncrypted
 */
export function servedAddresses(settings, isEncrypted) {
  const isHere = ["127.0.0.1", "::1", "localhost"].includes(settings.listenHost);
  const others = isHere ? [] : [...hostNames(), ...networkAddresses()];
  const hosts = new Set(["localhost", "127.0.0.1", "[::1]", ...others]);
  return [...hosts].map((host) => `${isEncrypted ? "https" : "http"}://${host}:${settings.port}`);
}
