/** Leaving a device: what goes, and what stays. */
import { expect, type Page, test } from "@playwright/test";
import { signIn } from "./support/people";

/** The names of the databases of this site in this browser, and how many intents wait in it. */
const keptOnDevice = (page: Page) =>
  page.evaluate(async () => {
    const names = (await indexedDB.databases()).map(({ name }) => name ?? "");
    const waiting = await new Promise<number>((resolve, reject) => {
      const opening = indexedDB.open("tackfree-queue");
      opening.onerror = () => reject(opening.error);
      opening.onsuccess = () => {
        const counting = opening.result.transaction("kept").objectStore("kept").count();
        counting.onsuccess = () => {
          opening.result.close();
          resolve(counting.result);
        };
      };
    });
    return { floorCopies: names.filter((name) => name.includes("floor")).length, waiting };
  });

/** What is put aside for working without signal, but for scripts and fonts: those are everybody's. */
const pagesKept = (page: Page) =>
  page.evaluate(async () => {
    const stores = await Promise.all((await caches.keys()).map((name) => caches.open(name)));
    const kept = (await Promise.all(stores.map((store) => store.keys())))
      .flat()
      .map(({ url }) => new URL(url).pathname);
    return kept.filter((path) => !path.startsWith("/_next/static/") && !path.startsWith("/fonts/"));
  });

test("signing out takes the floor off the device and keeps what was not sent", async ({ page }) => {
  await signIn(page, "Rufus");
  await page.route("**/api/trpc/door.send*", (route) => route.abort());
  await page.goto("/bench");
  await page
    .getByRole("button", { name: /^Take: / })
    .first()
    .click();
  await expect(page.getByRole("button", { name: /^Let go: / }).first()).toBeVisible();
  expect(await keptOnDevice(page)).toMatchObject({ floorCopies: 1, waiting: 1 });

  await page.goto("/more");
  await page.getByRole("button", { name: "Sign out" }).click();
  await page.getByRole("button", { name: "Sign out" }).click();
  await expect(page).toHaveURL(/\/sign-in$/);
  expect(await keptOnDevice(page)).toEqual({ floorCopies: 0, waiting: 1 });
  expect(await pagesKept(page)).toEqual([]);
  await page.goto("/floor");
  await expect(page).toHaveURL(/\/sign-in$/);
});
