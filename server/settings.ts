import * as z from "zod/mini";

const shape = z.object({
  NODE_ENV: z._default(z.enum(["production", "development", "test"]), "development"),
  PORT: z._default(z.coerce.number().check(z.int(), z.gte(1), z.lte(65_534)), 3000),
  /** This machine alone, unless told otherwise: over plain http a phone could not work offline anyway. */
  LISTEN_HOST: z._default(z.string(), "127.0.0.1"),
  NEXTAUTH_URL: z.url(),
  NEXTAUTH_SECRET: z.string().check(z.minLength(16)),
  TLS_CERT: z.optional(z.string()),
  TLS_KEY: z.optional(z.string()),
  /** The certificate of the authority that was made here; with it comes the page that tells phones how to trust it. */
  TACKFREE_AUTHORITY_CERT: z.optional(z.string()),
  TACKFREE_DEMO: z.optional(z.string()),
  /** For the bench: notes are not kept if the power fails. Refused outside of a test. */
  TACKFREE_UNFLUSHED: z.optional(z.string()),
  TACKFREE_TEST: z.optional(z.string()),
});

/** What the server reads from the environment, parsed once; what the database needs is in src/data/env.ts. */
export function readSettings(env: NodeJS.ProcessEnv) {
  const found = shape.parse(env);
  const isUnflushed = found.TACKFREE_UNFLUSHED === "1";
  if (isUnflushed && found.TACKFREE_TEST !== "1")
    throw new Error("TACKFREE_UNFLUSHED gives up what members write when the power fails: only a test may ask for it");
  const isEncrypted = found.TLS_CERT !== undefined && found.TLS_KEY !== undefined;
  return {
    isDevelopment: found.NODE_ENV !== "production",
    port: found.PORT,
    listenHost: found.LISTEN_HOST,
    siteUrl: found.NEXTAUTH_URL,
    sessionSecret: found.NEXTAUTH_SECRET,
    tls: isEncrypted ? { certificateFile: found.TLS_CERT as string, keyFile: found.TLS_KEY as string } : undefined,
    authorityFile: found.TACKFREE_AUTHORITY_CERT,
    isDemo: found.TACKFREE_DEMO === "1",
    isDurable: !isUnflushed,
  };
}
