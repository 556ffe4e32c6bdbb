import path from "node:path";
import { root } from "./steps.mjs";
import { Trouble } from "./trouble.mjs";

const usage = `Usage: npm start -- [--demo | --no-demo] [--lan]
  --demo      fill an empty database with one made-up week of a small workshop
  --no-demo   leave an empty database empty, and do not ask
  --lan       serve the phones and tablets on the shop's network, over https

Settings from the environment: PORT (3000), DATA_DIR (./data), DATABASE_URL (an embedded PostgreSQL where it is not set),
LISTEN_HOST, NEXTAUTH_URL, NEXTAUTH_SECRET and NEXTAUTH_SECRET_PREVIOUS, ALLOWED_ORIGINS (further addresses of this site,
with commas between them), TLS_CERT and TLS_KEY (with --lan), TACKFREE_DEMO=1 (the same as --demo).`;

/**
 * @typedef {object} Settings
 * @property {number} port
 * @property {string} dataFolder absolute
 * @property {string | undefined} databaseUrl undefined for the embedded PostgreSQL
 * @property {boolean} isLan
 * @property {string} listenHost
 * @property {boolean | undefined} wantsDemo undefined where nobody has said
 */

/**
 * What the command line and the environment ask for. An empty variable counts as one that is not set.
 * @param {string[]} args
 * @param {Record<string, string | undefined>} env
 * @returns {Settings}
 */
export function readSettings(args, env) {
  const unknown = args.find((arg) => !["--demo", "--no-demo", "--lan"].includes(arg));
  if (unknown) throw new Trouble(`Tackfree does not know "${unknown}".`, usage);
  const isLan = args.includes("--lan");
  const port = Number(env.PORT || 3000);
  if (!Number.isInteger(port) || port < 1 || port > 65534)
    throw new Trouble(`"${env.PORT}" is not a port.`, "Use a whole number from 1 to 65534: PORT=3000 npm start");
  const isDemo = args.includes("--demo") || env.TACKFREE_DEMO === "1";
  return {
    port,
    dataFolder: path.resolve(root, env.DATA_DIR || "data"),
    databaseUrl: env.DATABASE_URL || undefined,
    isLan,
    // Over plain http a phone gets no service worker and no camera, so without --lan only this machine is served.
    listenHost: env.LISTEN_HOST || (isLan ? "0.0.0.0" : "127.0.0.1"),
    wantsDemo: args.includes("--no-demo") ? false : isDemo || undefined,
  };
}
