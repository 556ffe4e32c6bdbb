import { afterAll, expect, test } from "vitest";
import { closeDatabase } from "~/data/db";
import { measureRooms } from "../bench/memory";

const [rooms, mostGrowth] = [5_000, 1.1];

afterAll(closeDatabase);

test(`${rooms} rooms that are opened and closed leave no memory behind when it is done again`, async () => {
  const { firstBytes, secondBytes, left } = await measureRooms(rooms);
  console.log(`${rooms} rooms: ${(firstBytes / 1e6).toFixed(1)} MB, again: ${(secondBytes / 1e6).toFixed(1)} MB`);
  expect(left).toBe(0);
  expect(secondBytes).toBeLessThan(mostGrowth * firstBytes);
});
