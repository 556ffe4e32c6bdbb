/** What a phone has to fetch before the floor can be drawn for the first time. */
import { gzipSync } from "node:zlib";

/** The scripts of the floor's first load, compressed: a phone on a workshop's wifi must not wait for more. */
export const firstLoadGateBytes = 200_000;

export type FirstLoad = { bytes: number; scripts: { path: string; bytes: number }[] };
type Fetch = (address: string) => Promise<string>;

const attributeOf = (tag: string, name: string): string | undefined =>
  new RegExp(`\\s${name}="([^"]*)"`, "i").exec(tag)?.[1]?.replaceAll("&amp;", "&");

/** Scripts that a page names, those for browsers of another age left out. */
export function scriptsIn(html: string): string[] {
  const scripts = (html.match(/<script\b[^>]*>/gi) ?? [])
    .filter((tag) => !/\snomodule/i.test(tag))
    .map((tag) => attributeOf(tag, "src"));
  const preloads = (html.match(/<link\b[^>]*>/gi) ?? [])
    .filter((tag) => attributeOf(tag, "as") === "script" || attributeOf(tag, "rel") === "modulepreload")
    .map((tag) => attributeOf(tag, "href"));
  return [...new Set([...scripts, ...preloads])].filter((path) => path !== undefined);
}

/** Sizes of the scripts that a page names, as `gzip -9` leaves them. */
export async function firstLoadOf(page: string, fetchText: Fetch): Promise<FirstLoad> {
  const paths = scriptsIn(await fetchText(page));
  if (paths.length === 0) throw new Error(`${page} names no scripts`);
  const scripts: FirstLoad["scripts"] = [];
  for (const path of paths) {
    const source = await fetchText(new URL(path, page).href);
    scripts.push({ path, bytes: gzipSync(source, { level: 9 }).length });
  }
  scripts.sort((a, b) => b.bytes - a.bytes);
  return { bytes: scripts.reduce((sum, { bytes }) => sum + bytes, 0), scripts };
}
