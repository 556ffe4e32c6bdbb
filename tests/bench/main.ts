/**
 * Speed, measured on the built server as `npm start` runs it. Times are this machine's: only the ratio to a bare
 * broadcaster, measured in the same run, may be compared with another's.
 */
import { chmodSync, mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { build } from "../../scripts/steps.mjs";
import { firstLoadGateBytes, firstLoadOf } from "../support/first-load";
import { RunningServer } from "../support/running-server";
import { measureBaseline } from "./baseline";
import { benchShop } from "./bench-shop";
import { type Spread, spreadOf } from "./spread";
import { measureToScreens } from "./to-screens";

const ms = (time: number): string => `${time.toFixed(time < 100 ? 1 : 0)} ms`;
const seconds = (timeMs: number): string => `${(timeMs / 1000).toFixed(2)} s`;
const spread = ({ p50Ms, p95Ms, count }: Spread): string => `p50 ${ms(p50Ms)}, p95 ${ms(p95Ms)} (${count} screens)`;
const kilobytes = (bytes: number): string => `${(bytes / 1000).toFixed(1)} kB`;

async function fetchText(address: string): Promise<string> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address}: ${response.status}`);
  return response.text();
}

async function measure(dataFolder: string) {
  const cold = await RunningServer.start({ dataFolder });
  let running = cold.server;
  try {
    const shop = await benchShop(running.site, await running.founderCode());
    const { timesMs, payloads } = await measureToScreens(shop);
    const baselineMs = await measureBaseline(payloads, shop.devices.length);
    const firstLoad = await firstLoadOf(`${running.site}/floor`, fetchText);
    await running.stop();
    const warm = await RunningServer.start({ dataFolder });
    running = warm.server;
    return {
      deviceCount: shop.devices.length,
      toScreens: spreadOf(timesMs),
      baseline: spreadOf(baselineMs),
      coldMs: cold.startMs,
      warmMs: warm.startMs,
      firstLoad,
    };
  } finally {
    await running.stop();
  }
}

build();
const scratch = mkdtempSync(path.join(os.tmpdir(), "tackfree-bench-"));
chmodSync(scratch, 0o755); // as root, PostgreSQL runs as another user, who must get through
try {
  const found = await measure(path.join(scratch, "shop"));
  const { toScreens, baseline, firstLoad } = found;
  const rows: [string, string][] = [
    [`intent to the other screens, ${found.deviceCount} devices`, spread(toScreens)],
    ["bare ws broadcaster, the same payloads", spread(baseline)],
    [
      "ratio at p50, at p95",
      `${(toScreens.p50Ms / baseline.p50Ms).toFixed(1)}, ${(toScreens.p95Ms / baseline.p95Ms).toFixed(1)}`,
    ],
    ["cold start: built, empty data folder", seconds(found.coldMs)],
    ["warm start: the same folder again", seconds(found.warmMs)],
    [`scripts of the floor's first load (gate ${kilobytes(firstLoadGateBytes)})`, kilobytes(firstLoad.bytes)],
  ];
  console.log(`\nNode ${process.version}, ${os.cpus().length} × ${os.cpus()[0]?.model ?? "unknown processor"}`);
  const width = Math.max(...rows.map(([what]) => what.length));
  for (const [what, value] of rows) console.log(`${what.padEnd(width)}  ${value}`);
  if (firstLoad.bytes > firstLoadGateBytes) {
    console.error("\nThe floor loads too much script at first. The largest:");
    for (const { path: script, bytes } of firstLoad.scripts.slice(0, 8))
      console.error(`  ${kilobytes(bytes)}  ${script}`);
    process.exitCode = 1;
  }
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
