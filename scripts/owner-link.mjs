import { checkNodeVersion } from "./node-version.mjs";

// Makes a link with which an owner who has lost theirs can sign in again. Whoever can run this owns the data anyway.

checkNodeVersion();
const { addressesOf } = await import("./encryption.mjs");
const { openDatabase } = await import("./database.mjs");
const { runServer } = await import("./server-process.mjs");
const { readSettings } = await import("./settings.mjs");
const { build, generate, install } = await import("./steps.mjs");
const { checkWritable, giveUp } = await import("./trouble.mjs");

async function ownerLink() {
  const settings = readSettings(process.argv.slice(2), process.env);
  checkWritable(settings.dataFolder);
  install();
  generate();
  build();
  const database = await openDatabase(settings);
  try {
    const [address] = addressesOf(settings, settings.isLan);
    /** @type {NodeJS.ProcessEnv} */
    const env = { ...process.env, NODE_ENV: "production", DATABASE_URL: database.url, NEXTAUTH_URL: address };
    process.exitCode = await runServer(["dist/owner-link.mjs"], env, new AbortController().signal);
  } finally {
    if (!database.isAdopted) await database.stop(); // otherwise a server is using it
  }
}

await ownerLink().catch(giveUp);
