import fc from "fast-check";
import { expect, test } from "vitest";
import { type Intent, schemaVersion } from "~/core/shop/intent";
import { readUnsentFile, unsentFileOf } from "~/device/unsent-file";
import { fern, id, monday8, shopId, silas } from "../core/support/people";

const owner = { shopId, memberId: fern, deviceId: id(0xde) };
const intent = (number: number, body: unknown = {}): Intent => ({
  intentId: id(0x1000 + number),
  kind: "release-task",
  body,
  memberId: fern,
  deviceId: owner.deviceId,
  deviceSeq: number,
  deviceAt: monday8,
  seenSeq: 7,
  schemaVersion,
});
const notes = [{ pieceId: id(5), epoch: 2, update: "AAA=", condition: "Loose foot.", journal: "" }];
const day = "2026-10-26";
const bodies = fc.record({ note: fc.constantFrom("", "Füße", "🪑 “loose”", "back\\slash"), restMin: fc.nat() });

test("whatever was done, the file gives it back word for word, under a name that says what and when", async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(bodies, { maxLength: 5 }), async (made) => {
      const intents = made.map((body, index) => ({
        intent: intent(index + 1, body),
        ...(index % 2 ? { expectedOffsetMs: -500 } : {}),
      }));
      const file = unsentFileOf(owner, { intents, notes }, day);
      expect(file.name).toBe("tackfree-unsent-2026-10-26.json");
      const read = readUnsentFile(await file.text(), owner);
      expect(read).toEqual({ ok: true, value: { intents, notes, isFromHere: true } });
    }),
  );
});

test("on another device of the member the file says that it was not written there", async () => {
  const file = unsentFileOf(owner, { intents: [{ intent: intent(1) }], notes }, day);
  const read = readUnsentFile(await file.text(), { ...owner, deviceId: id(0xdf) });
  expect(read).toMatchObject({ ok: true, value: { isFromHere: false, intents: [{ intent: intent(1) }] } });
});

test("another member's work is nobody else's to send, and another shop's is not this one's", async () => {
  const text = await unsentFileOf(owner, { intents: [{ intent: intent(1) }], notes: [] }, day).text();
  expect(readUnsentFile(text, { ...owner, memberId: silas })).toEqual({
    ok: false,
    refusal: { kind: "another-members-file" },
  });
  const forged = text.replace(`"memberId": "${fern}"`, `"memberId": "${silas}"`);
  expect(readUnsentFile(forged, { ...owner, memberId: silas })).toMatchObject({ ok: false });
  expect(readUnsentFile(text, { ...owner, shopId: id(0x77) })).toEqual({
    ok: false,
    refusal: { kind: "another-shops-file" },
  });
});

test.each(["", "{", "[]", `{"format":"tackfree-unsent","version":2}`, "time,temperature\n08:00,20"])(
  "a file that is something else is not taken: %s",
  (text) => {
    expect(readUnsentFile(text, owner)).toMatchObject({ ok: false, refusal: { kind: "not-unsent-file" } });
  },
);

test("a file that somebody has changed by hand says where it is broken", async () => {
  const text = await unsentFileOf(owner, { intents: [{ intent: intent(1) }], notes }, day).text();
  const broken = text.replace(`"deviceSeq": 1`, `"deviceSeq": "one"`);
  expect(readUnsentFile(broken, owner)).toEqual({
    ok: false,
    refusal: { kind: "not-unsent-file", field: "intents.0.intent.deviceSeq" },
  });
});
