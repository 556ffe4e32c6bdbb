import { createHash } from "node:crypto";
import { TRPCError } from "@trpc/server";
import * as z from "zod/mini";
import { accept, refuse } from "~/core/result";
import { shopId } from "~/core/shop/entities/ids";
import { partners } from "~/core/shop/roles";
import { changePassword, createAccount, resetPassword, seatsOf, takeSeat } from "~/data/accounts";
import type { Transaction } from "~/data/db";
import { invitationBySecret } from "~/data/invitations";
import { hasShop, isLinkOpen, useLink } from "~/data/links";
import { shopById } from "~/data/members";
import { endSession, shareSession } from "~/data/sessions";
import { type ApiContext, memberProcedure, openProcedure, roleProcedure, router, signedInProcedure } from "../init";

const signIn = {
  signInName: z.string().check(z.minLength(1), z.maxLength(60)),
  password: z.string().check(z.minLength(1), z.maxLength(200)),
};
const secret = z.string().check(z.minLength(10), z.maxLength(80));
const arrival = { intentId: z.string(), body: z.record(z.string(), z.unknown()) };

/** Thrown inside of the entrance's transaction, so that no member is left without an account. */
class AccountRefused extends Error {
  constructor(
    readonly refusal: { kind: "name-taken" } | { kind: "password-too-short"; min: number } | { kind: "link-over" },
  ) {
    super(refusal.kind);
  }
}

type SignIn = { signInName: string; password: string };

/** The account and its seat come with the member, in one transaction, or nothing does. */
const withAccount = (shop: string, person: SignIn, now: number) => async (tx: Transaction, memberId: string) => {
  const account = await createAccount({ ...person, now }, tx);
  if (!account.ok) throw new AccountRefused(account.refusal);
  await takeSeat({ accountId: account.value.accountId, shopId: shop, memberId }, tx);
};

const entered = async <Value>(enter: () => Promise<Value>) => {
  try {
    return accept(await enter());
  } catch (error) {
    if (error instanceof AccountRefused) return refuse(error.refusal);
    throw error;
  }
};

export const accountRouter = router({
  /** Who this device is signed in as. */
  me: signedInProcedure.query(async ({ ctx }) => {
    const { sessionId: _, ...session } = ctx.session;
    return { ...session, shopName: (await shopById(session.shopId))?.name ?? "" };
  }),

  /** Is there a shop here already? If not, the sign-in leads to founding one. */
  isFounded: openProcedure.query(() => hasShop()),

  /** Founding the first shop, with the one-time code that the terminal printed. */
  found: openProcedure.input(z.object({ code: secret, shopId, ...signIn, ...arrival })).mutation(({ ctx, input }) =>
    entered(() =>
      ctx.services.enter(
        { kind: "found-shop", intentId: input.intentId, shopId: input.shopId, body: input.body, now: ctx.now },
        async (tx, memberId) => {
          if (!(await useLink("founder", input.code, ctx.now, tx))) throw new AccountRefused({ kind: "link-over" });
          await withAccount(input.shopId, input, ctx.now)(tx, memberId);
        },
      ),
    ),
  ),

  /** Whose invitation a secret is. A POST, because a chat's preview fetches addresses; and looking does not spend it. */
  invitation: openProcedure.input(z.object({ secret })).mutation(async ({ ctx, input }) => {
    const found = await invitationBySecret(input.secret);
    const isOpen =
      found && !found.invitation.usedBy && !found.invitation.withdrawnAt && found.invitation.expiresAt > ctx.now;
    if (!found || !isOpen) return undefined;
    const shop = await shopById(found.shopId);
    return {
      shopId: found.shopId,
      shopName: shop?.name ?? "",
      role: found.invitation.role,
      forName: found.invitation.forName,
    };
  }),

  /** Joining by invitation: spends it. */
  join: openProcedure.input(z.object({ secret, ...signIn, ...arrival })).mutation(async ({ ctx, input }) => {
    const found = await invitationBySecret(input.secret);
    if (!found) throw new TRPCError({ code: "NOT_FOUND", message: "This invitation is not one of a shop here." });
    const secretSha256 = createHash("sha256").update(input.secret).digest("hex");
    return entered(() =>
      ctx.services.enter(
        {
          kind: "join",
          intentId: input.intentId,
          shopId: found.shopId,
          body: { ...input.body, secretSha256 },
          now: ctx.now,
        },
        withAccount(found.shopId, input, ctx.now),
      ),
    );
  }),

  isResetOpen: openProcedure
    .input(z.object({ secret }))
    .mutation(({ ctx, input }) => isLinkOpen("owner-reset", input.secret, ctx.now)),

  /** A new password by the owner's one-time link; every older session ends. */
  reset: openProcedure.input(z.object({ secret, password: signIn.password })).mutation(async ({ ctx, input }) => {
    const reset = await resetPassword({ ...input, now: ctx.now });
    if (reset.ok) await hangUp(ctx, reset.value.accountId);
    return reset;
  }),

  /** Turns this device into the tablet that the shop shares: everybody picks themselves on it. */
  shareTablet: roleProcedure(partners).mutation(async ({ ctx }) => {
    await shareSession(ctx.session.sessionId, ctx.now);
    await ctx.services.sessionsChanged({ sessionId: ctx.session.sessionId });
  }),

  signOut: signedInProcedure.mutation(async ({ ctx }) => {
    await endSession(ctx.session.sessionId, "signed-out", ctx.now);
    await ctx.services.sessionsChanged({ sessionId: ctx.session.sessionId });
  }),

  changePassword: memberProcedure.input(z.object({ password: signIn.password })).mutation(async ({ ctx, input }) => {
    const { accountId } = ctx.session;
    if (!accountId) throw new TRPCError({ code: "FORBIDDEN", message: "This device is signed in as nobody." });
    const changed = await changePassword({ accountId, password: input.password, now: ctx.now });
    if (changed.ok) await hangUp(ctx, accountId);
    return changed;
  }),
});

/** Sessions of the old password are over in the database; their open sockets are told at once. */
async function hangUp(ctx: ApiContext, accountId: string): Promise<void> {
  for (const { memberId } of await seatsOf(accountId)) await ctx.services.sessionsChanged({ memberId });
}
