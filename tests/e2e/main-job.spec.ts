/** The shop's main job, told by two people in two browsers: who has what, is it ready, and what went into it. */
import { expect, test } from "@playwright/test";
import { zone } from "../../seed/clock";
import { newId, type Ruling } from "../support/wire-device";
import { freeTask, freshPiece, pressTogetherMin, referenceCelsius, varnishedDresser } from "./support/fresh-piece";
import { earnedAt, loggedWeek, saidAt } from "./support/logger-file";
import { deviceOf, goTo, keptForOffline, onTheFloor, openStrip, signedIn } from "./support/people";

const hourMs = 60 * 60_000;
const minuteMs = 60_000;

test("a partner takes a repair at the bench, and the other sees it on the floor without asking", async ({
  browser,
  baseURL,
}) => {
  const fern = await deviceOf("Fern", baseURL as string);
  const piece = await freshPiece(fern);
  const task = await freeTask(fern, piece);
  const [rufus, sable] = [await signedIn(browser, "Rufus"), await signedIn(browser, "Sable")];
  const strip = await openStrip(sable, piece.name);
  await expect(strip.getByText(`${task.title} · free to take`)).toBeVisible();

  await goTo(rufus, "Bench");
  await rufus.getByRole("button", { name: `Take: ${task.title}` }).click();
  await expect(rufus.getByRole("button", { name: `Let go: ${task.title}` })).toBeVisible();

  const line = strip.getByRole("listitem").filter({ hasText: task.title });
  await expect(line.getByRole("img", { name: "Rufus" })).toBeVisible();
  await expect(line.getByRole("button", { name: "Take it" })).toBeHidden();
});

test("whoever takes what is taken hears whose it is", async ({ baseURL }) => {
  const [fern, rufus, sable] = await Promise.all(
    (["Fern", "Rufus", "Sable"] as const).map((name) => deviceOf(name, baseURL as string)),
  );
  if (!fern || !rufus || !sable) throw new Error("three devices were asked for");
  const { taskId } = await freeTask(fern, await freshPiece(fern));
  const claimBy = (memberId: string) => ({ claimId: newId(), taskId, memberIds: [memberId] });
  await rufus.send(["claim-task", claimBy(rufus.memberId)]);
  const everything = { seenSeq: 1_000_000 }; // a device that had seen the first claim
  const second: Ruling = await sable.propose("claim-task", claimBy(sable.memberId), everything);
  expect(second).toMatchObject({ verdict: "refused", refusal: { kind: "already-claimed", holderId: rufus.memberId } });
});

test("two who take the same repair while apart: one holds it, the other's work is kept, and both are told", async ({
  browser,
  baseURL,
}) => {
  const fern = await deviceOf("Fern", baseURL as string);
  const piece = await freshPiece(fern);
  const { title } = await freeTask(fern, piece);
  const [rufus, sable] = [await signedIn(browser, "Rufus"), await signedIn(browser, "Sable")];
  for (const page of [rufus, sable]) {
    await goTo(page, "Bench");
    await expect(page.getByRole("button", { name: `Take: ${title}` })).toBeVisible();
    await page.context().setOffline(true);
    await page.getByRole("button", { name: `Take: ${title}` }).click();
    await expect(page.getByRole("button", { name: `Let go: ${title}` })).toBeVisible();
  }
  await sable.getByRole("button", { name: `Start the timer: ${title}` }).click();
  const startedAt = await sable.evaluate(() => performance.now());
  await sable.waitForFunction((from) => performance.now() - from > 2500, startedAt);
  await sable.getByRole("button", { name: "Stop", exact: true }).click();
  await expect(sable.getByText("Stopped.")).toBeVisible();

  await rufus.context().setOffline(false);
  const answered = async () =>
    (await fern.ask<{ kinds: string[] }[]>("piece.history", { pieceId: piece.pieceId })).flatMap(({ kinds }) => kinds);
  await expect.poll(answered).toContain("claim-taken");
  await sable.context().setOffline(false);

  await expect(sable.getByText("Rufus has had it since")).toBeVisible();
  await expect(sable.getByRole("button", { name: `Let go: ${title}` })).toBeHidden();
  await expect(rufus.getByText("Sable asked for it too")).toBeVisible();
  await expect(rufus.getByRole("button", { name: `Let go: ${title}` })).toBeVisible();
  const worked = async () => (await fern.ask<{ seconds: number }>("piece.hours", { pieceId: piece.pieceId })).seconds;
  await expect.poll(worked).toBeGreaterThanOrEqual(2);
});

test("the floor opens again without signal, with every piece on it", async ({ browser, baseURL }) => {
  const piece = await freshPiece(await deviceOf("Fern", baseURL as string));
  const page = await signedIn(browser, "Rufus");
  await expect(page.getByRole("button", { name: piece.name })).toBeVisible();
  await keptForOffline(page, "/floor");
  await page.context().setOffline(true);
  await page.reload();
  await onTheFloor(page);
  await expect(page.getByRole("button", { name: piece.name })).toBeVisible();
  await expect(page.getByText("No signal since")).toBeVisible();
});

test("a dresser is not pressed together before the cold night is made up for, unless a hand has tried it", async ({
  browser,
  baseURL,
}) => {
  const now = Date.now();
  const fern = await deviceOf("Fern", baseURL as string);
  const dresser = await varnishedDresser(fern, 60, now);
  const { csv, celsiusAt } = loggedWeek(now, now - 40 * hourMs);
  const page = await signedIn(browser, "Fern");

  await goTo(page, "Rooms");
  const room = page.getByRole("article").filter({ has: page.getByRole("heading", { name: dresser.roomName }) });
  await room.getByRole("button", { name: "Logger’s file" }).click();
  await page
    .getByLabel("File with times")
    .setInputFiles({ name: "logger.csv", mimeType: "text/csv", buffer: Buffer.from(csv) });
  await page.getByRole("button", { name: /^Take in/ }).click();
  await expect(page.getByText("readings taken in")).toBeVisible();

  await goTo(page, "Floor");
  const strip = await openStrip(page, dresser.name);
  await strip.getByRole("button", { name: "Press together or apart" }).click();
  await page.getByRole("button", { name: "Press them together" }).click();
  const refusal = page.getByRole("dialog").filter({ hasText: "Not yet: press together" });
  const opensAt = earnedAt({ laidAt: dresser.laidAt, neededMin: pressTogetherMin, referenceCelsius }, celsiusAt);
  // a sum by the minute and an integral differ by a minute or so; a film's moment is shown rounded up to five minutes
  const fiveMs = 5 * minuteMs;
  const near = [-3, 0, 3].map((min) => saidAt(Math.ceil((opensAt + min * minuteMs) / fiveMs) * fiveMs, now, zone));
  await expect(refusal.getByText(new RegExp(near.join("|"))).first()).toBeVisible();

  await refusal.getByRole("button", { name: "I tested it by hand" }).click();
  await page.getByRole("radio", { name: "Passed" }).check({ force: true });
  await page.getByRole("button", { name: "Record the test" }).click();
  await expect(page.getByText("The test is written down.")).toBeVisible();
  await page.getByRole("button", { name: "Press them together" }).click();
  await expect(page.getByText("Together.")).toBeVisible();
});

test("the hours of the week add up by piece, person and stage", async ({ browser, baseURL }) => {
  const [fern, hollis] = [await deviceOf("Fern", baseURL as string), await deviceOf("Hollis", baseURL as string)];
  const piece = await freshPiece(fern);
  const worked = (memberId: string, minutes: number, stage: string): [string, object] => {
    const endedAt = Date.now();
    const subjects = [{ pieceId: piece.pieceId, stage }];
    return [
      "add-entry",
      { entryId: newId(), memberId, startedAt: endedAt - minutes * minuteMs, endedAt, workKind: "bench", subjects },
    ];
  };
  await fern.send(worked(fern.memberId, 15, "prep"));
  await hollis.send(worked(hollis.memberId, 8, "repair"));

  const page = await signedIn(browser, "Fern");
  await goTo(page, "Week’s end");
  const table = page.getByRole("table", { name: "Hours by person" });
  await expect(table).toBeVisible();
  const minutesOf = (text: string) => {
    const [hours = 0, minutes = 0] = text.split(":").map(Number);
    return hours * 60 + minutes;
  };
  const rows = await table
    .getByRole("row")
    .evaluateAll((found) =>
      found.map((row) => [...row.querySelectorAll("th, td")].map((cell) => cell.textContent.trim())),
    );
  const [head = [], ...lines] = rows;
  const ofPiece = lines.filter(([who]) => who?.includes(piece.number));
  const cellOf = (line: string[] | undefined, column: string) =>
    line?.[head.findIndex((word) => word.toLowerCase() === column)];
  expect(ofPiece.map((line) => line.at(-1)).sort()).toEqual(["0:08", "0:15"]);
  expect(ofPiece.map((line) => cellOf(line, "prep")).sort()).toContain("0:15");
  expect(ofPiece.map((line) => cellOf(line, "repair")).sort()).toContain("0:08");

  // every line adds up to its end, and every column to its foot
  for (const line of lines) {
    const parts = line.slice(1, -1).filter((cell) => /^\d+:\d\d$/.test(cell));
    expect(parts.reduce((sum, cell) => sum + minutesOf(cell), 0)).toBe(minutesOf(line.at(-1) as string));
  }
  const foot = lines.at(-1) as string[];
  const ofPieces = lines.slice(0, -1).filter(([who]) => /-|shop/.test(who as string));
  expect(ofPieces.reduce((sum, line) => sum + minutesOf(line.at(-1) as string), 0)).toBe(
    minutesOf(foot.at(-1) as string),
  );
});
