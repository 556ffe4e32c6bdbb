import { expect, test } from "@playwright/test";
import { firstLoadGateBytes, firstLoadOf } from "../support/first-load";

test("the floor's first load is at most 200 kB of compressed script", async ({ baseURL }) => {
  const { bytes, scripts } = await firstLoadOf(`${baseURL}/floor`, async (address) => (await fetch(address)).text());
  expect(bytes, JSON.stringify(scripts, undefined, 1)).toBeLessThanOrEqual(firstLoadGateBytes);
});
