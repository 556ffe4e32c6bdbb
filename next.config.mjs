import { randomUUID } from "node:crypto";

/** Names one build: the pages that a device keeps for working without signal are dropped when another one is served. */
const buildId = randomUUID();

/** @type {import("next").NextConfig} */
const config = {
  reactStrictMode: true,
  poweredByHeader: false,
  // `npm test` checks the types, tests included; whoever starts the shop need not wait for it
  typescript: { ignoreBuildErrors: true },
  generateBuildId: () => buildId,
  env: { TACKFREE_BUILD_ID: buildId },
  // Native or stateful packages: one copy, loaded by node itself, shared by the pages and the sync server.
  serverExternalPackages: ["@node-rs/argon2", "@prisma/client", "@prisma/adapter-pg", "pg", "pino", "yjs"],
};

export default config;
