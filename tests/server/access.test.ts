import { expect, test } from "vitest";
import type { Role } from "~/core/shop/entities/people";
import { closeCode, type RoomAddress } from "~/core/wire";
import { accessTo, type Standing } from "../../server/access";

const floor: RoomAddress = { kind: "floor", shopId: "mill", epoch: 1 };
const notes: RoomAddress = { kind: "notes", shopId: "mill", pieceId: "dresser", epoch: 1 };
const now = 1000;
const standing = (role: Role | undefined, more: Partial<Standing> = {}): Standing => ({
  sessionId: "s",
  shopId: "mill",
  deviceId: "d",
  memberId: "m",
  role,
  isSharedTablet: false,
  endsAt: now + 1,
  ...more,
});
const answer = (room: RoomAddress, who: Standing | undefined) => {
  const found = accessTo(room, who, now);
  return "code" in found ? found.code : found.access.mode;
};

// Source of the table: the rooms and their audiences as the shop wants them; the floor is the server's to write
test.each<[Role | undefined, string | number, string | number]>([
  ["owner", "read", "write"],
  ["partner", "read", "write"],
  ["helper", "read", "write"],
  ["bookkeeper", "read", "read"],
  ["outlet", closeCode.noRight, closeCode.noRight],
  [undefined, closeCode.noRight, closeCode.noRight],
])("for %s the floor is %s and the notes of a piece are %s", (role, ofFloor, ofNotes) => {
  expect([answer(floor, standing(role)), answer(notes, standing(role))]).toEqual([ofFloor, ofNotes]);
});

test("an owner has no right in another shop", () => {
  expect(answer(floor, standing("owner", { shopId: "creamery" }))).toBe(closeCode.noRight);
});

test("a session that ends now is over, and so is one that is not there", () => {
  expect(answer(floor, standing("owner", { endsAt: now }))).toBe(closeCode.sessionOver);
  expect(answer(floor, undefined)).toBe(closeCode.sessionOver);
});
