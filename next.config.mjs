/** @type {import("next").NextConfig} */
const config = {
  reactStrictMode: true,
  poweredByHeader: false,
  // Native or stateful packages: one copy, loaded by node itself, shared by the pages and the sync server.
  serverExternalPackages: ["@node-rs/argon2", "@prisma/client", "@prisma/adapter-pg", "pg", "pino", "yjs"],
};

export default config;
