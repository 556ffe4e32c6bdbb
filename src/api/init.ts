/**
 * The API's frame: who asks (one look-up of the session row), what time it is (read once per request), how errors leave.
 * Refusals that the shop can meet are data in the answers; errors here are no session, no right, malformed input, and bugs.
 */
import type { IncomingMessage } from "node:http";
import { initTRPC, TRPCError } from "@trpc/server";
import type { Role } from "~/core/shop/entities/people";
import type { InstantMs } from "~/core/units";
import { isPassing } from "~/data/faults";
import type { LiveSession } from "~/data/sessions";
import { referenceOf } from "./error-reference";
import type { Services } from "./services";

export type ApiContext = {
  session: LiveSession | undefined;
  now: InstantMs;
  /** Where requests come from, for limiting guesses. */
  address: string;
  services: Services;
};

export async function createContext(request: IncomingMessage, services: Services): Promise<ApiContext> {
  return {
    session: await services.sessionOf(request).catch((error: unknown) => {
      throw isPassing(error) ? unavailable(error) : error;
    }),
    now: services.now(),
    address: request.socket.remoteAddress ?? "",
    services,
  };
}

const t = initTRPC.context<ApiContext>().create({
  // a stack or a driver's message never reaches a person; the cause is logged where it happened
  errorFormatter: ({ shape, error }) => ({
    ...shape,
    message:
      error.code === "INTERNAL_SERVER_ERROR"
        ? `Something broke on the server. Nothing was changed. Reference ${referenceOf(error.cause ?? error)}`
        : shape.message,
    data: { code: shape.data.code, httpStatus: shape.data.httpStatus, path: shape.data.path },
  }),
});

export const router = t.router;
export const createCallerFactory = t.createCallerFactory;

/** A database that is away, a server that is ending: nothing is wrong with what was asked, and it may be asked again. */
const unavailable = (cause: unknown) =>
  new TRPCError({
    code: "SERVICE_UNAVAILABLE",
    message: "The server cannot do this at the moment. Nothing was changed; it may be asked again.",
    cause,
  });

const procedure = t.procedure.use(async ({ next }) => {
  const result = await next();
  if (result.ok || !isPassing(result.error.cause)) return result;
  throw unavailable(result.error.cause);
});

/** For anybody, signed in or not. */
export const openProcedure = procedure;

/** For a signed-in device: a member's own, or the shared tablet. */
export const signedInProcedure = procedure.use(({ ctx, next }) => {
  if (!ctx.session) throw new TRPCError({ code: "UNAUTHORIZED", message: "Sign in first." });
  return next({ ctx: { ...ctx, session: ctx.session } });
});

/** For a person who signed in on their own device. */
export const memberProcedure = signedInProcedure.use(({ ctx, next }) => {
  const { session } = ctx;
  if (session.isSharedTablet) {
    throw new TRPCError({ code: "FORBIDDEN", message: "Not on the shared tablet: sign in on your own device." });
  }
  return next({ ctx: { ...ctx, session } });
});

export const roleProcedure = (roles: readonly Role[]) =>
  memberProcedure.use(({ ctx, next }) => {
    if (!roles.includes(ctx.session.role)) {
      throw new TRPCError({ code: "FORBIDDEN", message: "Your role does not open this." });
    }
    return next({ ctx });
  });
