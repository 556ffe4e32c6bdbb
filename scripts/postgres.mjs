import { spawn, spawnSync } from "node:child_process";
import { createHash, randomBytes } from "node:crypto";
import {
  appendFileSync,
  chmodSync,
  chownSync,
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import net from "node:net";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { postgresPrograms } from "./postgres-programs.mjs";
import { canWrite, postgresUser } from "./postgres-user.mjs";
import { Trouble } from "./trouble.mjs";

// A small supervisor for the PostgreSQL that npm brought along. It makes a cluster once, takes over one that still runs
// (an earlier start may have been killed), and otherwise starts it, listening on this machine only, on a free port.

const owner = "tackfree"; // the role and the database inside the cluster
const patienceMs = 60_000; // recovery after a power cut, and an old process that is still letting go
const settings = `
listen_addresses = '127.0.0.1'
unix_socket_directories = ''
max_connections = 60
shared_buffers = 64MB
`;

/**
 * @typedef {object} Running
 * @property {string} url
 * @property {string} home the folder that holds it
 * @property {"made" | "started" | "adopted"} how
 * @property {() => Promise<void>} stop ends it, and waits until it has ended
 */

/**
 * @typedef {object} Place
 * @property {string} home
 * @property {string} cluster
 * @property {string} log
 * @property {string} passwordFile
 * @property {string} madeFile there once the cluster is whole
 * @property {{ uid?: number, gid?: number }} user
 */

/** @param {string} home @returns {Place} */
function openPlace(home) {
  const cluster = path.join(home, "cluster");
  const user = postgresUser(cluster);
  mkdirSync(home, { recursive: true });
  if (user.uid !== undefined && user.gid !== undefined) chownSync(home, user.uid, user.gid);
  chmodSync(home, 0o700);
  const real = realpathSync(home);
  return {
    home: real,
    cluster: path.join(real, "cluster"),
    log: path.join(real, "log"),
    passwordFile: path.join(real, "password"),
    madeFile: path.join(real, "made"),
    user,
  };
}

/** The folder asked for, or one that PostgreSQL's user can reach where that one lies below a closed folder. @param {string} wanted */
function findPlace(wanted) {
  const place = openPlace(wanted);
  if (canWrite(place.home, place.user)) return place;
  const short = createHash("sha256").update(place.home).digest("hex").slice(0, 8);
  const elsewhere = openPlace(path.join("/var/lib", `tackfree-${short}`));
  if (!canWrite(elsewhere.home, elsewhere.user))
    throw new Trouble(
      `PostgreSQL's user can reach neither ${place.home} nor ${elsewhere.home}.`,
      "Name a data folder that every user can reach: DATA_DIR=/srv/tackfree npm start",
    );
  console.log(`PostgreSQL's user cannot reach ${wanted}; the database is kept in ${elsewhere.home} instead.`);
  return elsewhere;
}

/** @param {Place} place @param {string} initdb */
function makeCluster(place, initdb) {
  rmSync(place.cluster, { recursive: true, force: true }); // what a broken first start left
  writeFileSync(place.passwordFile, randomBytes(18).toString("base64url"), { mode: 0o600 });
  if (place.user.uid !== undefined && place.user.gid !== undefined)
    chownSync(place.passwordFile, place.user.uid, place.user.gid);
  const access = ["--auth=scram-sha-256", `--username=${owner}`, `--pwfile=${place.passwordFile}`];
  // PostgreSQL's own C.UTF-8 sorts alike on every machine, whatever the operating system brings.
  const locale = ["--encoding=UTF8", "--no-locale", "--locale-provider=builtin", "--builtin-locale=C.UTF-8"];
  const made = spawnSync(initdb, ["-D", place.cluster, ...access, ...locale, "--no-instructions"], {
    ...place.user,
    cwd: place.home,
    encoding: "utf8",
  });
  if (made.status !== 0)
    throw new Trouble(
      `PostgreSQL could not make its cluster in ${place.cluster}: ${made.error?.message ?? made.stderr}`,
      "Put that right, or name another folder: DATA_DIR=/path/to/a/folder npm start",
    );
  appendFileSync(path.join(place.cluster, "postgresql.conf"), settings);
  writeFileSync(place.madeFile, "");
}

/** @param {string} cluster */
function readPostmaster(cluster) {
  try {
    const lines = readFileSync(path.join(cluster, "postmaster.pid"), "utf8").split("\n"); // first: process, fourth: port
    return { pid: Number(lines[0]), port: Number(lines[3]) };
  } catch {
    return undefined; // no file, no postmaster; it comes and goes by itself, so asking first would not help
  }
}

/** @param {number} pid */
function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

/** After a restart of the machine the number in the file may belong to anybody; PostgreSQL would wait for it for ever. @param {string} cluster */
function dropStalePid(cluster) {
  const postmaster = readPostmaster(cluster);
  const commandFile = `/proc/${postmaster?.pid}/cmdline`;
  if (postmaster && existsSync(commandFile) && !readFileSync(commandFile, "utf8").includes("postgres"))
    rmSync(path.join(cluster, "postmaster.pid"));
}

/** @returns {Promise<number>} */
function freePort() {
  return new Promise((resolve, reject) => {
    const probe = net.createServer().once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const { port } = /** @type {net.AddressInfo} */ (probe.address());
      probe.close(() => resolve(port));
    });
  });
}

/**
 * Runs a query on the server at a port, or gives undefined where nothing answers there or it is not our cluster.
 * @template T
 * @param {Place} place
 * @param {number} port
 * @param {(client: import("pg").Client) => Promise<T>} work
 */
async function ask(place, port, work) {
  const { default: pg } = await import("pg");
  const client = new pg.Client({
    connectionString: urlAt(place, port, "postgres"),
    connectionTimeoutMillis: 2000,
  });
  client.on("error", () => {}); // the connection may break while it closes; the caller asks again
  try {
    await client.connect();
    const { rows } = await client.query("show data_directory");
    return rows[0].data_directory === place.cluster ? await work(client) : undefined;
  } catch (error) {
    const { code } = /** @type {{ code?: string }} */ (error);
    const isOurBug = code?.startsWith("42"); // SQLSTATE class 42: syntax error or access rule violation
    if (isOurBug) throw error;
    return undefined;
  } finally {
    await client.end().catch(() => {});
  }
}

/** @param {Place} place @param {number} port @param {string} database */
function urlAt(place, port, database) {
  return `postgresql://${owner}:${readFileSync(place.passwordFile, "utf8")}@127.0.0.1:${port}/${database}`;
}

/** @param {import("pg").Client} client */
async function ensureDatabase(client) {
  const { rowCount } = await client.query("select 1 from pg_database where datname = $1", [owner]);
  if (rowCount === 0) await client.query(`create database ${owner}`);
  return true;
}

/** @param {Place} place @param {string} postgres @param {number} port */
function spawnPostgres(place, postgres, port) {
  const log = openSync(place.log, "a");
  const child = spawn(postgres, ["-D", place.cluster, "-p", String(port)], {
    ...place.user,
    cwd: place.home,
    detached: true, // Ctrl-C in the terminal must reach the server first, and the database last
    stdio: ["ignore", log, log],
  });
  closeSync(log);
  child.unref();
  return child;
}

/** @param {Place} place @param {string} postgres */
async function adoptOrStart(place, postgres) {
  const givesUpAt = performance.now() + patienceMs;
  /** @type {import("node:child_process").ChildProcess | undefined} */
  let child;
  let port = 0;
  while (performance.now() < givesUpAt) {
    const running = readPostmaster(place.cluster);
    if (running && (await ask(place, running.port, ensureDatabase)))
      return { ...running, isAdopted: running.pid !== child?.pid };
    if (!child || child.exitCode !== null || child.signalCode !== null) {
      if (child) await pause(250); // it ended at once: an older one is still starting, recovering or letting go
      dropStalePid(place.cluster);
      port = await freePort();
      child = spawnPostgres(place, postgres, port);
    }
    await pause(25);
  }
  throw new Trouble(
    `PostgreSQL did not start. The end of its log ${place.log}:\n${readFileSync(place.log, "utf8").slice(-800)}`,
    "Put that right and start again.",
  );
}

/** @param {Place} place @param {number} pid */
async function stop(place, pid) {
  if (isAlive(pid)) process.kill(pid, "SIGINT"); // "fast shutdown": ends sessions, writes everything down
  // It takes its file away last. The process itself may stay in the table for ever where nobody collects orphans.
  while (isAlive(pid) && readPostmaster(place.cluster)?.pid === pid) await pause(25);
}

/**
 * The embedded PostgreSQL, running.
 * @param {string} folder where it keeps everything
 * @returns {Promise<Running>}
 */
export async function ensurePostgres(folder) {
  const place = findPlace(folder);
  const { initdb, postgres } = await postgresPrograms(place.home, place.user);
  const isNew = !existsSync(place.madeFile);
  if (isNew) makeCluster(place, initdb);
  const { pid, port, isAdopted } = await adoptOrStart(place, postgres);
  const how = isNew ? "made" : isAdopted ? "adopted" : "started";
  return { url: urlAt(place, port, owner), home: place.home, how, stop: () => stop(place, pid) };
}
