import { readdir } from "node:fs/promises";
import path from "node:path";

export const partsPath = "/parts.json";

/**
 * Every file of this build that a page may fetch, by address: a device that is to work without signal keeps all of them,
 * because a sheet that is opened there for the first time names its script in no page.
 *
 * @param folder of the build's hashed files
 */
export async function pageParts(folder: string): Promise<string[]> {
  const files = await readdir(folder, { recursive: true, withFileTypes: true });
  return files
    .filter((file) => file.isFile() && /\.(js|css|woff2)$/.test(file.name))
    .map(
      (file) =>
        `/_next/static/${path.relative(folder, path.join(file.parentPath, file.name)).split(path.sep).join("/")}`,
    )
    .sort();
}
