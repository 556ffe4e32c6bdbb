/** What a device does with work that it cannot send: keep it, say so where it cannot, and send it once. */
import { readFile } from "node:fs/promises";
import { type BrowserContext, expect, type Page, test } from "@playwright/test";
import { freeTask, freshPiece } from "./support/fresh-piece";
import { deviceOf, goTo, signIn, toMore } from "./support/people";

const sending = "**/api/trpc/door.send*";
const noSignal = (context: BrowserContext) => context.route(sending, (route) => route.abort());

/** The signal is back: told to the page as a browser tells it. */
async function signalIsBack(page: Page): Promise<void> {
  await page.context().unroute(sending);
  await page.evaluate(() => window.dispatchEvent(new Event("online")));
}

/** A task that nobody has yet. @returns its title */
async function taskOnTheBench(site: string): Promise<string> {
  const device = await deviceOf("Fern", site);
  return (await freeTask(device, await freshPiece(device))).title;
}

async function take(page: Page, title: string): Promise<void> {
  await page
    .getByRole("button", { name: `Take: ${title}` })
    .first()
    .click();
}

const nothingWaits = (page: Page) =>
  expect(page.getByText("Nothing waits. All that was done here has been sent.")).toBeVisible();
const oneWaits = (page: Page) => expect(page.getByText("One change waits.")).toBeVisible();

test("of two tabs one sends; when it is closed the other sends what waits", async ({ context, page, baseURL }) => {
  const title = await taskOnTheBench(baseURL as string);
  await signIn(page, "Rufus");
  await noSignal(context);
  const other = await context.newPage();
  const sentByOther: string[] = [];
  other.on("request", (request) => {
    if (request.url().includes("door.send")) sentByOther.push(request.url());
  });
  await other.goto("/bench");
  const asked = page.waitForRequest(sending);
  await take(other, title);
  await asked;
  await toMore(page);
  await oneWaits(page);
  expect(sentByOther).toEqual([]);

  await page.close();
  await context.unroute(sending);
  await toMore(other);
  await nothingWaits(other);
  expect(sentByOther.length).toBeGreaterThan(0);
});

/** The browser answers every new row as it does on a full disk, until there is room again. */
const fillDevice = (page: Page) =>
  page.evaluate(() => {
    const { add } = IDBObjectStore.prototype;
    Object.assign(window, { makeRoom: () => Object.assign(IDBObjectStore.prototype, { add }) });
    IDBObjectStore.prototype.add = () => {
      throw new DOMException("no room is left", "QuotaExceededError");
    };
  });
const makeRoom = (page: Page) => page.evaluate(() => (window as unknown as { makeRoom: () => void }).makeRoom());

test("a full device says that it keeps nothing, holds on to the work, and keeps it once there is room", async ({
  page,
  baseURL,
}) => {
  const title = await taskOnTheBench(baseURL as string);
  await signIn(page, "Rufus");
  await goTo(page, "Bench");
  await fillDevice(page);
  await take(page, title);
  await expect(page.getByText("Not kept on this device.")).toBeVisible();
  await toMore(page);
  await expect(page.getByText("This device is full")).toBeVisible();
  await expect(page.getByRole("listitem").filter({ hasText: "Task taken" })).toBeVisible();
  await page.getByRole("button", { name: "Keep it now" }).click();
  await expect(page.getByText("This device is full")).toBeVisible();

  await makeRoom(page);
  await page.getByRole("button", { name: "Keep it now" }).click();
  await expect(page.getByText("This device is full")).toBeHidden();
  await nothingWaits(page);
  await goTo(page, "Bench");
  await expect(page.getByRole("button", { name: `Let go: ${title}` }).first()).toBeVisible();
});

test("unsent work goes out in a file, into another browser of the same member, and counts once", async ({
  browser,
  context,
  page,
  baseURL,
}) => {
  const title = await taskOnTheBench(baseURL as string);
  await signIn(page, "Rufus");
  await noSignal(context);
  await goTo(page, "Bench");
  await take(page, title);
  await toMore(page);
  await oneWaits(page);
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save as a file" }).click();
  const saved = await readFile(await (await download).path());

  const elsewhere = await (await browser.newContext()).newPage();
  const chooser = elsewhere.getByLabel("Read a saved file in");
  const file = { name: "tackfree-unsent.json", mimeType: "application/json", buffer: saved };
  await signIn(elsewhere, "Sable");
  await toMore(elsewhere);
  await chooser.setInputFiles(file);
  await expect(elsewhere.getByText("This file is another member’s.")).toBeVisible();
  await elsewhere.context().clearCookies();
  await signIn(elsewhere, "Rufus");
  await toMore(elsewhere);
  await chooser.setInputFiles(file);
  await expect(elsewhere.getByText("1 kept here, on the way to the shop.")).toBeVisible();
  await nothingWaits(elsewhere);

  await signalIsBack(page);
  await nothingWaits(page);
  await expect(page.locator(".refused-bar")).toHaveCount(0);
  await elsewhere.context().close();
});

test("a sign-in that ended in the middle of work loses none of it: it goes out after the next one", async ({
  context,
  page,
  baseURL,
}) => {
  const title = await taskOnTheBench(baseURL as string);
  await signIn(page, "Rufus");
  await goTo(page, "Bench");
  await context.clearCookies();
  await take(page, title);
  await expect(page.getByText("What is kept here goes out when you sign in again.")).toBeVisible();
  await signIn(page, "Rufus");
  await toMore(page);
  await nothingWaits(page);
  await goTo(page, "Bench");
  await expect(page.getByRole("button", { name: `Let go: ${title}` }).first()).toBeVisible();
});
