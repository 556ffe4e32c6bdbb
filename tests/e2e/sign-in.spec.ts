/** Coming in, on an installation of its own that begins without a shop. */
import { chmodSync, mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { expect, type Page, test } from "@playwright/test";
import { RunningServer } from "../support/running-server";
import { ownerLink } from "./support/owner-link";

const folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-entrance-"));
chmodSync(folder, 0o755); // as root, PostgreSQL runs as another user, who must get through
const dataFolder = path.join(folder, "shop");
const owner = { name: "Ida", signInName: "ida", password: "walnut and shellac" };
const newPassword = "linseed and beeswax";

test.describe.configure({ mode: "serial" });

let server: RunningServer;
test.beforeAll(async () => {
  test.setTimeout(120_000);
  ({ server } = await RunningServer.start({ dataFolder }));
});
test.afterAll(async () => {
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
});

type Person = { name: string; signInName: string; password: string };

async function fillPerson(page: Page, { name, signInName, password }: Person): Promise<void> {
  await page.getByLabel("Your name").fill(name);
  await page.getByLabel("Sign-in name").fill(signInName);
  await page.getByLabel("Password").fill(password);
}

async function signIn(page: Page, signInName: string, password: string): Promise<void> {
  await page.goto(`${server.site}/sign-in`);
  await page.getByLabel("Sign-in name").fill(signInName);
  await page.getByLabel("Password").fill(password);
  await page.getByRole("button", { name: "To the floor" }).click();
}

const onTheFloor = (page: Page) => expect(page.getByRole("heading", { name: "Floor", level: 1 })).toBeVisible();

test("a stranger who opens the floor is led to the sign-in", async ({ page }) => {
  await page.goto(`${server.site}/floor`);
  await expect(page).toHaveURL(/\/sign-in$/);
});

test("the code from the terminal founds the shop, and its owner stands on an empty floor", async ({ page }) => {
  await page.goto(`${server.site}/found`);
  await page.getByLabel("Code from the terminal").fill(await server.founderCode());
  await page.getByLabel("Name of the shop").fill("A bench and a lamp");
  await fillPerson(page, owner);
  await page.getByRole("button", { name: "Found the shop" }).click();
  await onTheFloor(page);
  await expect(page.getByText("No piece hangs here yet.")).toBeVisible();
});

test("the code founds no second shop, and says that it is spent", async ({ page }) => {
  await page.goto(`${server.site}/found`);
  await page.getByLabel("Code from the terminal").fill(await server.founderCode());
  await page.getByLabel("Name of the shop").fill("Another bench");
  await fillPerson(page, { name: "Otto", signInName: "otto", password: owner.password });
  await page.getByRole("button", { name: "Found the shop" }).click();
  await expect(page.getByRole("main").getByRole("alert")).toContainText("This link or code does not open anything");
});

test("a wrong password is told without saying which of the two was wrong", async ({ page }) => {
  await signIn(page, owner.signInName, "not this one");
  await expect(page.getByRole("main").getByRole("alert")).toContainText("Name and password do not go together");
});

test("whoever is invited comes in by the link, once", async ({ browser, page }) => {
  await signIn(page, owner.signInName, owner.password);
  await onTheFloor(page);
  await page.goto(`${server.site}/members`);
  await page.getByRole("button", { name: "Invite somebody" }).click();
  await page.getByLabel("For whom").fill("Max");
  await page.getByRole("button", { name: "Make the link" }).click();
  const link = (await page.locator("output.join-address").textContent()) as string;

  const max = await (await browser.newContext()).newPage();
  await max.goto(link);
  await expect(max.getByRole("heading", { name: "A bench and a lamp" })).toBeVisible();
  await fillPerson(max, { name: "Max", signInName: "max", password: owner.password });
  await max.getByRole("button", { name: "Join" }).click();
  await onTheFloor(max);

  const late = await (await browser.newContext()).newPage();
  await late.goto(link);
  await expect(late.getByText("This link or code does not open anything")).toBeVisible();
});

test("an owner who lost the password gets in by the link of whoever runs the server", async ({ page }) => {
  test.setTimeout(120_000);
  await page.goto(await ownerLink(dataFolder, server.port));
  await page.getByLabel("New password").fill(newPassword);
  await page.getByRole("button", { name: "Set it" }).click();
  await expect(page).toHaveURL(/\/sign-in$/);
  await signIn(page, owner.signInName, owner.password);
  await expect(page.getByRole("main").getByRole("alert")).toContainText("Name and password do not go together");
  await signIn(page, owner.signInName, newPassword);
  await onTheFloor(page);
});
