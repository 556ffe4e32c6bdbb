/** What somebody wrote down by mistake: taken back at the foot of the screen, in the history, or before it was ever sent. */
import { expect, type Page, test } from "@playwright/test";
import { boardId } from "../../seed/people";
import { newId, type WireDevice } from "../support/wire-device";
import { deviceOf, goTo, keptForOffline, onTheFloor, openStrip, signedIn, toMore } from "./support/people";

type Stool = { name: string; pieceId: string; coatId: string };

/** A stool whose seat was painted a moment ago. */
async function paintedStool(device: WireDevice): Promise<Stool> {
  const word = newId().slice(-6);
  const [roomId, sheetId, pieceId, surfaceId, coatId] = [newId(), newId(), newId(), newId(), newId()];
  const room = { roomId, name: `Room ${word}`, uses: ["cure"], usualCelsius: 20, usualHumidityPercent: 50 };
  const product = { productId: newId(), sheetId, name: `Paint ${word}`, family: "chalk-paint" };
  const surfaces = [{ surfaceId, name: "Seat", squareDecimetres: 10 }];
  const name = `Stool ${word}`;
  const piece = { pieceId, number: `S-${word}`, boardId, name, kind: "other", stage: "finish", isPainted: "no" };
  const now = Date.now();
  await device.send(
    ["add-room", room],
    ["add-product", product],
    ["add-piece", { ...piece, roomId, surfaces }],
    [
      "log-coat",
      { coatId, surfaceId, sheetId, startedAt: now, endedAt: now, by: [device.memberId], roomId, stance: "done" },
    ],
  );
  return { name, pieceId, coatId };
}

async function onItsSheet(page: Page, { name }: Stool): Promise<void> {
  const strip = await openStrip(page, name);
  await strip.getByRole("link", { name: "Open the piece sheet" }).click();
  await expect(coatsOf(page)).toBeVisible();
}

const coatsOf = (page: Page) => page.getByRole("list", { name: "Coats of Seat, the newest first" });
const takeBackKey = (page: Page, what: string) => page.getByRole("button", { name: `Take back: ${what}` });
const isFlawed = (page: Page) => coatsOf(page).getByText("flaw", { exact: false });

async function reportFlaw(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Report on coat 1 of Seat" }).click();
  const sheet = page.getByRole("dialog");
  await sheet.getByRole("button", { name: "Which flaw" }).click();
  await page.getByRole("option", { name: "Dust" }).click();
  await sheet.getByRole("button", { name: "Report the flaw" }).click();
  await expect(sheet).toBeHidden();
}

test("what was done a moment ago is taken back from the foot of the screen, and everybody sees it as it was", async ({
  browser,
  baseURL,
}) => {
  const stool = await paintedStool(await deviceOf("Fern", baseURL as string));
  const [fern, rufus] = [await signedIn(browser, "Fern"), await signedIn(browser, "Rufus")];
  for (const page of [fern, rufus]) await onItsSheet(page, stool);
  await reportFlaw(fern);
  await expect(isFlawed(rufus)).toBeVisible();
  await fern.getByRole("region", { name: "Short answers" }).getByRole("button", { name: "Take back" }).click();
  await expect(isFlawed(rufus)).toBeHidden();
  await expect(isFlawed(fern)).toBeHidden();
});

test("the history lets a coat go until somebody has built on it, and then says who", async ({ browser, baseURL }) => {
  const [device, hollis] = [await deviceOf("Fern", baseURL as string), await deviceOf("Hollis", baseURL as string)];
  const stool = await paintedStool(device);
  await hollis.send(["report-flaw", { coatId: stool.coatId, cause: "run" }]);
  const page = await signedIn(browser, "Fern");
  await onItsSheet(page, stool);
  await expect(page.getByText("It stays. After it came: Flaw seen by Hollis")).toBeVisible();
  await expect(takeBackKey(page, "Coat laid")).toBeHidden();

  const acts = await hollis.ask<{ intentId: string; pieceId?: string }[]>("acts.own");
  const flaw = acts.find(({ pieceId }) => pieceId === stool.pieceId);
  await hollis.send(["take-back", { intentId: flaw?.intentId }]);
  await page.reload();
  await takeBackKey(page, "Coat laid").click();
  await expect(page.getByText("Coat laid, taken back")).toBeVisible();
  await expect(page.getByText("Taken back: coat laid")).toBeVisible();
  await expect(page.getByRole("button", { name: "Report on coat 1 of Seat" })).toBeHidden();
});

test("what was done without signal leaves the line of this device as if it had not been", async ({
  browser,
  baseURL,
}) => {
  const stool = await paintedStool(await deviceOf("Fern", baseURL as string));
  const page = await signedIn(browser, "Rufus");
  await toMore(page);
  await expect(page.getByText("Nothing waits.")).toBeVisible();
  await goTo(page, "Floor");
  await keptForOffline(page, "/floor");
  await page.context().setOffline(true);
  await page.reload(); // a line that is open outlives the browser's own word for no signal
  await onTheFloor(page);
  await expect(page.getByText("No signal since")).toBeVisible();
  await onItsSheet(page, stool);
  await reportFlaw(page);
  await expect(isFlawed(page)).toBeVisible();
  await toMore(page);
  await expect(page.getByText("One change waits")).toBeVisible();
  await takeBackKey(page, "Flaw seen").click();
  await expect(page.getByText("Taken back. It had not been sent.")).toBeVisible();
  await expect(page.getByText("Nothing waits.")).toBeVisible();
  await page.context().setOffline(false);
  await goTo(page, "Floor");
  await onItsSheet(page, stool);
  await expect(isFlawed(page)).toBeHidden();
});
