import path from "node:path";
import readline from "node:readline/promises";
import { isEmpty, openDatabase } from "./database.mjs";
import { addressesOf, encryption, servedAddresses } from "./encryption.mjs";
import { runServer } from "./server-process.mjs";
import { sessionSecrets } from "./session-secret.mjs";
import { readSettings } from "./settings.mjs";
import { build, generate, install, root } from "./steps.mjs";
import { checkPortFree, checkWritable } from "./trouble.mjs";

/** @typedef {"production" | "development"} Mode */

const programs = {
  production: ["--enable-source-maps", path.join(root, "dist", "server.mjs")],
  development: ["--import", "tsx", path.join(root, "server", "main.ts")],
};

/** @param {import("./settings.mjs").Settings} settings @param {string} databaseUrl @param {AbortSignal} ending */
async function wantsDemo(settings, databaseUrl, ending) {
  if (settings.wantsDemo !== undefined) return settings.wantsDemo;
  if (!process.stdin.isTTY || !process.stdout.isTTY || !(await isEmpty(databaseUrl))) return false;
  const terminal = readline.createInterface({ input: process.stdin, output: process.stdout });
  terminal.on("SIGINT", () => process.emit("SIGINT")); // while it asks, it takes Ctrl-C for itself
  try {
    const answer = await terminal.question("The shop is empty. Fill it with a made-up week to look around? [y/N] ", {
      signal: ending,
    });
    return /^y(es)?$/i.test(answer.trim());
  } catch (error) {
    if (ending.aborted) return false;
    throw error;
  } finally {
    terminal.close();
  }
}

/** @param {import("./settings.mjs").Settings} settings @param {string[]} addresses @param {boolean} hasOwnAuthority */
function announce(settings, addresses, hasOwnAuthority) {
  console.log(`Address:  ${addresses.join("\n          ")}`);
  if (!settings.isLan) console.log("          (this machine only; for phones and tablets: npm start -- --lan)");
  if (!hasOwnAuthority) return;
  const { hostname } = new URL(addresses[0] ?? "");
  console.log(`Phones:   open http://${hostname}:${settings.port + 1}/trust first`);
}

/** Aborted by the first request to end; later ones change nothing, because npm and the terminal may both send one. */
function endingSignal() {
  const controller = new AbortController();
  for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"]) process.on(signal, () => controller.abort());
  return controller.signal;
}

/** @param {Mode} mode @param {string} command */
async function prepare(mode, command) {
  const settings = readSettings(process.argv.slice(2), process.env);
  checkWritable(settings.dataFolder);
  await checkPortFree(settings.port, settings.listenHost, command);
  install();
  generate();
  if (mode === "production") build();
  return settings;
}

/** @param {import("./settings.mjs").Settings} settings */
function secretsFor(settings) {
  const { NEXTAUTH_SECRET, NEXTAUTH_SECRET_PREVIOUS } = process.env;
  if (NEXTAUTH_SECRET) return { NEXTAUTH_SECRET, NEXTAUTH_SECRET_PREVIOUS };
  const { current, previous } = sessionSecrets(settings.dataFolder);
  return { NEXTAUTH_SECRET: current, NEXTAUTH_SECRET_PREVIOUS: previous };
}

/**
 * Everything from a bare checkout to a running server and back.
 * @param {Mode} mode
 */
export async function launch(mode) {
  const settings = await prepare(mode, mode === "production" ? "npm start" : "npm run dev");
  const tls = await encryption(settings, process.env);
  const hasOwnAuthority = tls.TACKFREE_AUTHORITY_CERT !== undefined;
  if (hasOwnAuthority) await checkPortFree(settings.port + 1, settings.listenHost, "npm start -- --lan");
  const ending = endingSignal();
  const database = await openDatabase(settings);
  try {
    const demo = await wantsDemo(settings, database.url, ending);
    const addresses = addressesOf(settings, tls.TLS_CERT !== undefined);
    announce(settings, addresses, hasOwnAuthority);
    const env = {
      ...process.env,
      NODE_ENV: mode,
      NEXT_TELEMETRY_DISABLED: "1",
      DATABASE_URL: database.url,
      DATA_DIR: settings.dataFolder,
      PORT: String(settings.port),
      LISTEN_HOST: settings.listenHost,
      ...secretsFor(settings),
      TACKFREE_ADDRESSES: servedAddresses(settings, tls.TLS_CERT !== undefined).join(","),
      NEXTAUTH_URL: process.env.NEXTAUTH_URL || addresses[0],
      TACKFREE_DEMO: demo ? "1" : undefined,
      TLS_CERT: undefined,
      TLS_KEY: undefined,
      ...tls,
    };
    process.exitCode = await runServer(programs[mode], env, ending);
  } finally {
    await database.stop();
  }
}
