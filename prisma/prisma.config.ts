import { defineConfig } from "prisma/config";

// Only the Prisma command line reads this file. `generate` needs no database, so a missing DATABASE_URL is no mistake here.
export default defineConfig({
  schema: "schema.prisma",
  migrations: { path: "migrations" },
  datasource: { url: process.env.DATABASE_URL ?? "" },
});
