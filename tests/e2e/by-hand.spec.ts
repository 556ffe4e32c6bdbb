/** What a hand finds and what a name answers for: how a gate opens before the clock, and what shuts it again. */
import { expect, type Page, test } from "@playwright/test";
import { newId, type WireDevice } from "../support/wire-device";
import { type CoatedPiece, freshPiece, varnishedDresser } from "./support/fresh-piece";
import { deviceOf, openStrip, signedIn } from "./support/people";

/** Far from the three days that its can asks for. */
const hoursAgo = 10;

const pressTest = (device: WireDevice, { pieceId, pairId }: CoatedPiece, result: "pass" | "fail") =>
  device.send([
    "record-test",
    { testId: newId(), pieceId, subject: { of: "pair", pairId }, kind: "paper-press", result },
  ]);

async function onItsSheet(page: Page, { name }: { name: string }): Promise<void> {
  const strip = await openStrip(page, name);
  await strip.getByRole("link", { name: "Open the piece sheet" }).click();
  await expect(page.getByRole("button", { name: "Press together or apart" })).toBeVisible();
}

async function pressTogether(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Press together or apart" }).click();
  await page.getByRole("button", { name: "Press them together" }).click();
}

async function refusedToPress(page: Page, why = "Not yet: press together"): Promise<void> {
  await pressTogether(page);
  const no = page.getByRole("dialog", { name: why });
  await expect(no).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(no).toBeHidden();
  const sheet = page.getByRole("dialog");
  if (await sheet.isVisible()) await page.keyboard.press("Escape");
  await expect(sheet).toBeHidden();
}

const giveWord = async (page: Page, why: string): Promise<void> => {
  await page.getByRole("button", { name: "Give your word" }).click();
  const sheet = page.getByRole("dialog", { name: "Give your word" });
  await sheet.getByRole("radio", { name: "Press together" }).check({ force: true });
  await sheet.getByRole("radio", { name: "4 h", exact: false }).first().check({ force: true });
  await sheet.getByLabel("Why").fill(why);
  await sheet.getByRole("button", { name: "Give my word" }).click();
  await expect(page.getByText("Open by your word.")).toBeVisible();
};

test("a helper’s passed test opens nothing early until a partner says that it counts", async ({ browser, baseURL }) => {
  const [fern, hollis] = [await deviceOf("Fern", baseURL as string), await deviceOf("Hollis", baseURL as string)];
  const dresser = await varnishedDresser(fern, hoursAgo, Date.now());
  await pressTest(hollis, dresser, "pass");
  const page = await signedIn(browser, "Fern");
  await onItsSheet(page, dresser);
  await expect(page.getByText("opens nothing early until a partner says that it counts")).toBeVisible();
  await refusedToPress(page);

  await page.getByRole("button", { name: "It counts" }).click();
  await expect(page.getByText("Fern said that it counts")).toBeVisible();
  await pressTogether(page);
  await expect(page.getByText("Together.")).toBeVisible();
});

test("a partner’s word opens a gate in their name, a failed test ends it, and no word opens what a hand has shut", async ({
  browser,
  baseURL,
}) => {
  const [fern, hollis] = [await deviceOf("Fern", baseURL as string), await deviceOf("Hollis", baseURL as string)];
  const dresser = await varnishedDresser(fern, hoursAgo, Date.now());
  const page = await signedIn(browser, "Rufus");
  await onItsSheet(page, dresser);
  await giveWord(page, "Buyer takes it with the fronts out");
  await expect(page.getByText("by Rufus’s word").first()).toBeVisible();

  await pressTest(hollis, dresser, "fail");
  await expect(page.getByText("ended by a failed test")).toBeVisible();
  await refusedToPress(page, "Not yet: a test says no");
  await page.getByRole("button", { name: "Give your word" }).click();
  const sheet = page.getByRole("dialog", { name: "Give your word" });
  await expect(sheet.getByRole("radio", { name: "Carry and handle" })).toBeAttached(); // the sheet is there, with what it has
  await expect(sheet.getByRole("radio", { name: "Press together" })).toHaveCount(0);
});

test("a word that is taken back shuts the gate again", async ({ browser, baseURL }) => {
  const dresser = await varnishedDresser(await deviceOf("Fern", baseURL as string), hoursAgo, Date.now());
  const page = await signedIn(browser, "Sable");
  await onItsSheet(page, dresser);
  await giveWord(page, "Only to try the fit of the fronts");
  await page.getByRole("button", { name: "Take it back" }).click();
  await expect(page.getByText("Nothing is open on anybody’s word.")).toBeVisible();
  await refusedToPress(page);
});

test("glue is refused where the night will be cold, and what was glued all the same is kept for a hand to pull", async ({
  browser,
  baseURL,
}) => {
  const fern = await deviceOf("Fern", baseURL as string);
  const chair = await freshPiece(fern);
  const page = await signedIn(browser, "Rufus");
  const strip = await openStrip(page, chair.name);
  await strip.getByRole("link", { name: "Open the piece sheet" }).click();
  await page.getByRole("button", { name: "Log a joint" }).click();
  const sheet = page.getByRole("dialog", { name: "Log a joint" });
  await sheet.getByLabel("Which joint").fill("Back leg");
  await sheet.getByRole("button", { name: /Where/ }).click();
  await page.getByRole("option", { name: /^Cold bay/ }).click();
  await sheet.getByRole("button", { name: "Log the joint" }).click();

  const no = page.getByRole("dialog", { name: "No: too cold to glue here" });
  await expect(no.getByText("dries to chalk and does not hold")).toBeVisible();
  await expect(no.getByText(/Carry it to the .*Loft/i)).toBeVisible();
  await no.getByRole("button", { name: "It is done already" }).click();
  await expect(page.getByText("Back leg: glued.")).toBeVisible();
  await expect(page.getByRole("listitem").filter({ hasText: "Back leg" }).first()).toBeVisible();
});
