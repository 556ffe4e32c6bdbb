/** The invented members of the demo, entering through the screens, each in a browser of their own. */
import { type Browser, expect, type Page } from "@playwright/test";
import { demoPassword, demoSignInNames } from "../../../seed/demo";
import { type SignIn, WireDevice } from "../../support/wire-device";

/** By their names on the screens: the owner, two partners, a helper. */
export type Name = "Fern" | "Rufus" | "Sable" | "Hollis";

function signInOf(name: Name): SignIn {
  const known = demoSignInNames.find(({ signInName }) => signInName.toLowerCase() === name.toLowerCase());
  if (!known) throw new Error(`the demo has nobody called ${name}`);
  return { signInName: known.signInName, password: demoPassword };
}

export const deviceOf = (name: Name, site: string): Promise<WireDevice> => WireDevice.signIn(site, signInOf(name));

export async function signIn(page: Page, name: Name): Promise<void> {
  await page.goto("/sign-in");
  const { signInName, password } = signInOf(name);
  await page.getByLabel("Sign-in name").fill(signInName);
  await page.getByLabel("Password").fill(password);
  await page.getByRole("button", { name: "To the floor" }).click();
  await onTheFloor(page);
}

/** Somebody in a browser of their own, with the floor before them. */
export async function signedIn(browser: Browser, name: Name): Promise<Page> {
  const page = await (await browser.newContext()).newPage();
  await signIn(page, name);
  return page;
}

/** The floor is there, with its pieces. */
export async function onTheFloor(page: Page): Promise<void> {
  await expect(page).toHaveURL(/\/floor$/);
  await expect(page.getByRole("heading", { name: "Floor", level: 1 })).toBeVisible();
  await expect(page.locator("[data-strip-name]").first()).toBeVisible();
}

/** Goes to a place as a person does, by its word. */
export async function goTo(page: Page, place: string): Promise<void> {
  await page.getByRole("navigation").getByRole("link", { name: place }).filter({ visible: true }).click();
  await expect(page.getByRole("heading", { name: place, level: 1 })).toBeVisible();
}

/** By the member's own mark, without loading the page anew: what could not be kept lives as long as the page. */
export async function toMore(page: Page): Promise<void> {
  await page.locator('a[href="/more"]').filter({ visible: true }).first().click();
  await expect(page.getByRole("heading", { name: "More", level: 1 })).toBeVisible();
}

/** Waits until a page would open again without signal: a worker is in charge, and has put the page aside. */
export async function keptForOffline(page: Page, path: string): Promise<void> {
  await page.waitForFunction(async (wanted) => {
    if (!navigator.serviceWorker.controller) return false;
    return (await caches.match(new URL(wanted, location.origin).href)) !== undefined;
  }, path);
}

/** Opens the strip of a piece on the floor. */
export async function openStrip(page: Page, pieceName: string) {
  const strip = page.getByRole("listitem").filter({ has: page.getByRole("button", { name: pieceName }) });
  await strip.getByRole("button", { name: pieceName }).click();
  await expect(strip.getByRole("heading", { name: "Who and what" })).toBeVisible();
  return strip;
}
