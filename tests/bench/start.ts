/** The built server as `npm start` runs it: how long until it answers, and how much script the floor loads at first. */
import path from "node:path";
import { build } from "../../scripts/steps.mjs";
import { firstLoadGateBytes, firstLoadOf } from "../support/first-load";
import { RunningServer } from "../support/running-server";
import { atMost, kilobytes, type Row, seconds } from "./rows";

const largestShown = 8;

async function fetchText(address: string): Promise<string> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address}: ${response.status}`);
  return response.text();
}

/** @param scratch a folder that is thrown away afterwards */
export async function measureStart(scratch: string): Promise<Row[]> {
  build();
  const dataFolder = path.join(scratch, "shop");
  const cold = await RunningServer.start({ dataFolder });
  const firstLoad = await firstLoadOf(`${cold.server.site}/floor`, fetchText).finally(() => cold.server.stop());
  const warm = await RunningServer.start({ dataFolder });
  await warm.server.stop();
  const isTooMuch = firstLoad.bytes > firstLoadGateBytes;
  const largest = isTooMuch ? firstLoad.scripts.slice(0, largestShown) : [];
  return [
    { what: "cold start: built, empty data folder", value: seconds(cold.startMs) },
    { what: "warm start: the same folder again", value: seconds(warm.startMs) },
    atMost("scripts of the floor's first load", firstLoad.bytes, firstLoadGateBytes, kilobytes),
    ...largest.map(({ path: script, bytes }) => ({ what: `  ${script}`, value: kilobytes(bytes) })),
  ];
}
