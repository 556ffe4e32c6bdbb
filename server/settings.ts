import { X509Certificate } from "node:crypto";
import { readFileSync } from "node:fs";
import path from "node:path";
import * as z from "zod/mini";
import { logLevels } from "./log";
import { certifiedAddresses } from "./origins";

/** Addresses with commas between them; none where it is empty. */
const addresses = z.pipe(
  z.pipe(
    z._default(z.string(), ""),
    z.transform((text) => text.split(",").flatMap((one) => one.trim() || [])),
  ),
  z.array(z.url({ protocol: /^https?$/ })),
);
const secret = z.string().check(z.minLength(16));
const emptyIsAbsent = z.transform((text) => (text === "" ? undefined : text));

const shape = z.object({
  NODE_ENV: z._default(z.enum(["production", "development", "test"]), "development"),
  PORT: z._default(z.coerce.number().check(z.int(), z.gte(1), z.lte(65_534)), 3000),
  /** This machine alone, unless told otherwise: over plain http a phone could not work offline anyway. */
  LISTEN_HOST: z._default(z.string(), "127.0.0.1"),
  NEXTAUTH_URL: z.url(),
  NEXTAUTH_SECRET: secret,
  /** The secret of before: what it signed still counts. */
  NEXTAUTH_SECRET_PREVIOUS: z.pipe(emptyIsAbsent, z.optional(secret)),
  /** Where the program that starts this one says that it is found. */
  TACKFREE_ADDRESSES: addresses,
  /** Further addresses of this site: behind a proxy, or under a name of its own. */
  ALLOWED_ORIGINS: addresses,
  TLS_CERT: z.optional(z.string()),
  TLS_KEY: z.optional(z.string()),
  /** The certificate of the authority that was made here; with it comes the page that tells phones how to trust it. */
  TACKFREE_AUTHORITY_CERT: z.optional(z.string()),
  TACKFREE_DEMO: z.optional(z.string()),
  /** Who sends it as a bearer token may read the figures from another machine. */
  METRICS_TOKEN: z.pipe(emptyIsAbsent, z.optional(secret)),
  LOG_LEVEL: z._default(z.enum(logLevels), "info"),
  DATA_DIR: z._default(z.string(), "data"),
  /** For the bench: notes are told before they are stored, and may be lost. Refused outside of a test. */
  TACKFREE_UNFLUSHED: z.optional(z.string()),
  TACKFREE_TEST: z.optional(z.string()),
});

/** What the server reads from the environment, parsed once; what the database needs is in src/data/env.ts. */
export function readSettings(env: NodeJS.ProcessEnv) {
  const found = shape.parse(env);
  const isUnflushed = found.TACKFREE_UNFLUSHED === "1";
  const isTest = found.TACKFREE_TEST === "1";
  if (isUnflushed && !isTest)
    throw new Error("TACKFREE_UNFLUSHED gives up what members write when the power fails: only a test may ask for it");
  const isEncrypted = found.TLS_CERT !== undefined && found.TLS_KEY !== undefined;
  const certified = isEncrypted
    ? certifiedAddresses(new X509Certificate(readFileSync(found.TLS_CERT as string)), found.PORT)
    : [];
  return {
    isDevelopment: found.NODE_ENV !== "production",
    port: found.PORT,
    listenHost: found.LISTEN_HOST,
    siteUrl: found.NEXTAUTH_URL,
    sessionSecrets: [
      found.NEXTAUTH_SECRET,
      ...(found.NEXTAUTH_SECRET_PREVIOUS ? [found.NEXTAUTH_SECRET_PREVIOUS] : []),
    ],
    siteAddresses: [found.NEXTAUTH_URL, ...found.TACKFREE_ADDRESSES, ...found.ALLOWED_ORIGINS, ...certified],
    mayLackOrigin: isTest,
    tls: isEncrypted ? { certificateFile: found.TLS_CERT as string, keyFile: found.TLS_KEY as string } : undefined,
    authorityFile: found.TACKFREE_AUTHORITY_CERT,
    isDemo: found.TACKFREE_DEMO === "1",
    metricsToken: found.METRICS_TOKEN,
    logLevel: found.LOG_LEVEL,
    dataFolder: path.resolve(found.DATA_DIR),
    isDurable: !isUnflushed,
  };
}
