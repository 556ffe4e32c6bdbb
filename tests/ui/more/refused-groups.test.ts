import { expect, test } from "vitest";
import { schemaVersion } from "~/core/shop/intent";
import type { Refusal } from "~/core/shop/refusal";
import type { RefusedIntent } from "~/device/queue-database";
import { maySendAgain, refusedGroups, restingOn } from "~/ui/more/refused-groups";
import { fern, id, monday8 } from "../../core/support/people";

const refusedAs = (place: number, refusal: Refusal): RefusedIntent => ({
  place,
  owner: "a shop and a member",
  state: "refused",
  refusal,
  intent: {
    intentId: id(0x1000 + place),
    kind: "stop-timer",
    body: {},
    memberId: fern,
    deviceId: id(0xde),
    deviceSeq: place,
    deviceAt: monday8,
    seenSeq: 7,
    schemaVersion,
  },
});
const late = (place: number) => refusedAs(place, { kind: "clock-not-trusted", deviceAt: monday8 });
const lost = (place: number) => refusedAs(place, { kind: "last-owner" });
const resting = (place: number, on: number) =>
  refusedAs(place, { kind: "rests-on-refused", intentId: id(0x1000 + on), itsKind: "start-timer" });
const places = (rows: readonly RefusedIntent[]) => rows.map(({ place }) => place);

test("the same sort of reason stands together, the newest first, and none is left out", () => {
  const groups = refusedGroups([late(1), lost(2), late(3), lost(4), late(5)]);
  expect(groups.map(({ kind, rows }) => [kind, places(rows)])).toEqual([
    ["clock-not-trusted", [5, 3, 1]],
    ["last-owner", [4, 2]],
  ]);
});

test("what rests on a refused thing is shown with that, and by itself once that has been laid aside", () => {
  const refused = [late(1), resting(2, 1), resting(3, 1), resting(4, 9)];
  expect(refusedGroups(refused).map(({ kind, rows }) => [kind, places(rows)])).toEqual([
    ["rests-on-refused", [4]],
    ["clock-not-trusted", [1]],
  ]);
  expect(places(restingOn(refused, refused[0] as RefusedIntent))).toEqual([2, 3]);
});

test("what would get the same answer for ever is not offered to be sent again", () => {
  expect(maySendAgain("intent-altered")).toBe(false);
  expect(maySendAgain("may-not")).toBe(false);
  expect(maySendAgain("already-claimed")).toBe(true);
});
