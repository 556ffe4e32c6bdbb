import { expect, test } from "vitest";
import { entranceWords, refusalFromText } from "~/ui/entrance/entrance-words";

// 2026-10-28T14:00Z is 10:00 in New York (UTC-4 until 1 November 2026; IANA time zone data)
const at = { now: Date.UTC(2026, 9, 28, 14, 0), zone: "America/New_York" };

test("after too many tries the door says from what time on it listens again, in the zone of the person", () => {
  const words = entranceWords({ kind: "too-many-attempts", earliestAt: at.now + 7.5 * 60_000 }, at);
  expect(words.sentence).toContain("10:07");
  expect(words.sentence).toContain("8 min");
});

test("a taken name and a short password are said at their own fields", () => {
  expect(entranceWords({ kind: "name-taken" }, at).field).toBe("signInName");
  const short = entranceWords({ kind: "password-too-short", min: 10 }, at);
  expect(short.field).toBe("password");
  expect(short.sentence).toContain("10 characters");
});

test("a wrong password does not tell whether the name is known", () => {
  const { title, field } = entranceWords({ kind: "wrong-name-or-password" }, at);
  expect(title).toMatch(/name and password/i);
  expect(field).toBeUndefined();
});

test.each(["used", "withdrawn", "expired", "unknown"] as const)(
  "an invitation that is over because it was %s sends the person back to the owner",
  (reason) => {
    expect(entranceWords({ kind: "invitation-over", reason }, at).sentence).toContain("Ask the owner");
  },
);

test("an error that is no refusal of ours is said as the server's trouble, not as the person's", () => {
  for (const error of ["CredentialsSignin", "{", "null", '{"kind":"made-up"}']) {
    expect(refusalFromText(error)).toEqual({ kind: "not-answered" });
  }
});

test("the wait travels through the sign-in's error text unharmed", () => {
  const refusal = { kind: "too-many-attempts", earliestAt: at.now };
  expect(refusalFromText(JSON.stringify(refusal))).toEqual(refusal);
});
