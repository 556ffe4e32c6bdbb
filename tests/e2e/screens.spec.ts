/** Every screen on a phone and a laptop, in day and garage light: readable, reachable, and large enough for gloves. */
import AxeBuilder from "@axe-core/playwright";
import { type Browser, expect, type Page, test } from "@playwright/test";
import { freshPiece } from "./support/fresh-piece";
import { deviceOf, signIn } from "./support/people";
import { tooSmallTargets, unreached } from "./support/screen-checks";

/** Both sizes and both lights, each once: the tokens are the same on either, and so are the layouts in either light. */
const sizes = [
  { device: "phone", light: "garage", width: 390, height: 844 },
  { device: "laptop", light: "day", width: 1440, height: 900 },
] as const;
const inside = [
  "/floor",
  "/safe",
  "/bench",
  "/week",
  "/rooms",
  "/members",
  "/more",
  "/shelf",
  "/mixing",
  "/closing",
  "/hit",
  "/piece",
];
const outside = ["/sign-in", "/found", "/join#no-such-secret", "/reset#no-such-secret"];

for (const { device, light, width, height } of sizes) {
  test.describe(`on a ${device} in ${light} light`, () => {
    let page: Page;
    let isSignedIn = false;

    const opened = async (browser: Browser) => {
      const context = await browser.newContext({ viewport: { width, height }, hasTouch: device === "phone" });
      await context.addInitScript((chosen) => localStorage.setItem("tackfree-light", chosen), light);
      return context.newPage();
    };
    let pieceId: string;
    test.beforeAll(async ({ browser }, { project }) => {
      page = await opened(browser);
      ({ pieceId } = await freshPiece(await deviceOf("Fern", project.use.baseURL as string)));
    });
    test.afterAll(() => page.context().close());

    for (const path of [...outside, ...inside]) {
      test(`${path} is read by everybody, fits, and is worked by touch and by keys`, async () => {
        if (inside.includes(path) && !isSignedIn) {
          await signIn(page, "Fern");
          isSignedIn = true;
        }
        await page.goto(path === "/piece" ? `/piece?id=${pieceId}` : path);
        await expect(page.getByRole("heading", { level: 1 }).first()).toBeVisible();
        await expect(page.locator("html")).toHaveAttribute("data-light", light);
        await expect(page.locator("main [aria-busy=true]")).toHaveCount(0);

        const { violations } = await new AxeBuilder({ page }).analyze();
        const found = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target).join(", ")}`);
        expect.soft(found, "what axe finds").toEqual([]);
        const overflowPx = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect.soft(overflowPx, "pixels to scroll sideways").toBeLessThanOrEqual(0);
        expect.soft(await tooSmallTargets(page), "targets under 44 px").toEqual([]);
        expect.soft(await unreached(page), "what the Tab key does not reach").toEqual([]);
      });
    }
  });
}
