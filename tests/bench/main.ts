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
import { measureDocuments } from "./documents";
import { measureFlush } from "./flush";
import { measureGates } from "./gates";
import { measureNotes } from "./notes-to-readers";
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
    const notes = [];
    for (const readerCount of [10, 50]) {
      const found = await measureNotes(shop, readerCount);
      const bare = spreadOf(await measureBaseline(found.payloads, readerCount));
      notes.push({ readerCount, toReaders: spreadOf(found.timesMs), bare });
    }
    const firstLoad = await firstLoadOf(`${running.site}/floor`, fetchText);
    await running.stop();
    const warm = await RunningServer.start({ dataFolder });
    running = warm.server;
    return {
      deviceCount: shop.devices.length,
      toScreens: spreadOf(timesMs),
      baseline: spreadOf(baselineMs),
      notes,
      flush: spreadOf(measureFlush(dataFolder)),
      coldMs: cold.startMs,
      warmMs: warm.startMs,
      firstLoad,
    };
  } finally {
    await running.stop();
  }
}

const documents = await measureDocuments();
if (process.argv.includes("documents")) {
  for (const [what, value] of documents) console.log(`${what}: ${value}`);
  process.exit();
}
const gates = measureGates();
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
    ...found.notes.flatMap(({ readerCount, toReaders: told, bare }): [string, string][] => [
      [`notes to ${readerCount} readers, stored first`, spread(told)],
      [`bare ws broadcaster to ${readerCount}`, spread(bare)],
    ]),
    ["one flush of the disk (fdatasync)", `p50 ${ms(found.flush.p50Ms)}, p95 ${ms(found.flush.p95Ms)}`],
    ["cold start: built, empty data folder", seconds(found.coldMs)],
    ["warm start: the same folder again", seconds(found.warmMs)],
    [`all ${gates.gates} gates of 500 pieces, 5,000 coats, 90 days in 8 rooms, from rows`, ms(gates.coldMs)],
    ["the same in a process that has just started", ms(gates.firstColdMs)],
    ["the same gates again after one new reading", ms(gates.afterReadingMs)],
    ["one film of 90 days worked out line by line", ms(gates.reintegrateOneFilmMs)],
    ["looking once at every reading", ms(gates.lookAtReadingsMs)],
    [
      "ratio of cold to one film, of a new reading to looking once",
      `${(gates.coldMs / gates.reintegrateOneFilmMs).toFixed(1)}, ${(gates.afterReadingMs / gates.lookAtReadingsMs).toFixed(1)}`,
    ],
    ...documents,
    ["instants looked up against worked out, at worst", `${gates.worstSeconds.toFixed(3)} s`],
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
