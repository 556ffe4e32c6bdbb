import { mkdtempSync, rmSync, statSync, utimesSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { replaceSessionSecret, sessionSecrets } from "../../scripts/session-secret.mjs";

const dayMs = 24 * 60 * 60 * 1000;
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-secret-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

/** The secret of now was made so many days ago. */
function age(days: number): void {
  const madeAt = new Date(Date.now() - days * dayMs);
  utimesSync(path.join(folder, "session-secret"), madeAt, madeAt);
}

test("the secret is made once, is long, and nobody else of the machine reads it", () => {
  const first = sessionSecrets(folder);
  expect(first.current).toMatch(/^[\w-]{43}$/); // 32 bytes in base64url
  expect(first.previous).toBeUndefined();
  expect(sessionSecrets(folder)).toEqual(first);
  expect(statSync(path.join(folder, "session-secret")).mode & 0o777).toBe(0o600);
});

test("the one before counts beside the new one for sixty days, as long as a sign-in lasts", () => {
  const { current: before } = sessionSecrets(folder);
  replaceSessionSecret(folder, { isAtOnce: false });
  const { current, previous } = sessionSecrets(folder);
  expect([current === before, previous]).toEqual([false, before]);
  age(59);
  expect(sessionSecrets(folder).previous).toBe(before);
  age(60);
  expect(sessionSecrets(folder).previous).toBeUndefined();
  expect(sessionSecrets(folder).current).toBe(current);
});

test("a second change within those days is refused, because it would sign people out, unless that is what is wanted", () => {
  sessionSecrets(folder);
  replaceSessionSecret(folder, { isAtOnce: false });
  const kept = sessionSecrets(folder);
  expect(() => replaceSessionSecret(folder, { isAtOnce: false })).toThrow("still rest on the one before");
  expect(sessionSecrets(folder)).toEqual(kept);
  replaceSessionSecret(folder, { isAtOnce: true });
  const after = sessionSecrets(folder);
  expect(after.current).not.toBe(kept.current);
  expect(after.previous).toBeUndefined();
});

test("everybody is signed out of a shop that was never started, which is nobody", () => {
  replaceSessionSecret(folder, { isAtOnce: true });
  expect(sessionSecrets(folder).current).toMatch(/^[\w-]{43}$/);
});
