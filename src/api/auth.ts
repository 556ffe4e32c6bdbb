/**
 * Sign-in by name and password. The token carries only the id of a session row: that row, looked up at every request and
 * socket, is what can be ended.
 */
import { randomUUID } from "node:crypto";
import type { AuthOptions } from "next-auth";
import Credentials from "next-auth/providers/credentials";
import { roleAt } from "~/core/shop/roles";
import { dayMs } from "~/core/units";
import { checkSignIn, seatsOf } from "~/data/accounts";
import { memberById } from "~/data/members";
import { createSession } from "~/data/sessions";
import { openToken, secretsOf } from "./token";

/** A phone in a shop stays signed in for a season's work, not for ever. */
const sessionDays = 60;

const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

/** The seat of the first shop in which this account is still a member. */
async function liveSeat(accountId: string, now: number) {
  for (const seat of await seatsOf(accountId)) {
    const member = await memberById(seat.shopId, seat.memberId);
    if (member && roleAt(member, now)) return seat;
  }
  return undefined;
}

export const authOptions = (secrets = secretsOf(process.env)): AuthOptions => ({
  secret: secrets[0],
  jwt: { decode: async ({ token }) => (token ? openToken(token, secrets) : null) },
  session: { strategy: "jwt", maxAge: sessionDays * 24 * 60 * 60 },
  pages: { signIn: "/sign-in" },
  providers: [
    Credentials({
      credentials: { signInName: {}, password: {}, deviceId: {}, deviceName: {} },
      authorize: async (given) => {
        const now = Date.now();
        const { signInName = "", password = "", deviceId = "", deviceName = "" } = given ?? {};
        const account = await checkSignIn({ signInName, password: password.slice(0, 200), now });
        if (!account.ok) throw new Error(JSON.stringify(account.refusal));
        const { accountId } = account.value;
        const seat = await liveSeat(accountId, now);
        if (!seat) throw new Error(JSON.stringify({ kind: "no-seat" }));
        const sid = await createSession({
          ...seat,
          accountId,
          isSharedTablet: false,
          deviceId: uuid.test(deviceId) ? deviceId : randomUUID(),
          deviceName: deviceName.slice(0, 40) || "device",
          now,
          expiresAt: now + sessionDays * dayMs,
        });
        return { id: sid };
      },
    }),
  ],
  callbacks: {
    jwt: ({ token, user }) => (user ? { sid: user.id } : token),
    session: ({ session }) => ({ expires: session.expires }),
  },
});
