"use client";
/** The screens' way to the server: queries for what never rests on a device, and the door for what was done. */
import { QueryClient, QueryClientProvider } from "@tanstack/react-query";
import { createTRPCClient, httpBatchLink, httpLink, splitLink, TRPCClientError } from "@trpc/client";
import { createTRPCContext } from "@trpc/tanstack-react-query";
import { type ReactNode, useState } from "react";
import type { AppRouter } from "~/api/root";
import { NotSignedIn, type SendAnswer } from "~/device/delivery";
import type { LastAnswer } from "~/device/last-delivery";
import type { ServerLink } from "~/device/store";

const contexts = createTRPCContext<AppRouter>();
export const useApi = contexts.useTRPC;

const url = "/api/trpc";

export const apiClient = createTRPCClient<AppRouter>({
  links: [
    // what goes through the door travels alone: no question of a screen can hold it up or be held up by it
    splitLink({
      condition: ({ path }) => path.startsWith("door."),
      true: httpLink({ url }),
      false: httpBatchLink({ url }),
    }),
  ],
});

export function ApiProvider({ children }: { children: ReactNode }) {
  // a query that fails for want of signal waits for it; one that is refused is not asked again
  const [queries] = useState(
    () => new QueryClient({ defaultOptions: { queries: { retry: 1, refetchOnWindowFocus: true } } }),
  );
  return (
    <QueryClientProvider client={queries}>
      <contexts.TRPCProvider trpcClient={apiClient} queryClient={queries}>
        {children}
      </contexts.TRPCProvider>
    </QueryClientProvider>
  );
}

/** Nobody is signed in on this device (any longer). */
export const isSignedOut = (error: unknown): boolean =>
  error instanceof TRPCClientError && (error.data as { code?: string } | null)?.code === "UNAUTHORIZED";

const unlessSignedOut = async <Value,>(asking: Promise<Value>): Promise<Value> => {
  try {
    return await asking;
  } catch (error) {
    throw isSignedOut(error) ? new NotSignedIn() : error;
  }
};

/** The device's side of the door. */
export const serverLink: ServerLink = {
  // a refusal's `was` may be any value, which the client's type calls optional
  send: (intents, behind) => unlessSignedOut(apiClient.door.send.mutate({ intents, behind }) as Promise<SendAnswer>),
  enrol: (secretSha256) => unlessSignedOut(apiClient.lastDelivery.enrol.mutate({ secretSha256 })),
  sendLast: (secret, intents) =>
    unlessSignedOut(apiClient.lastDelivery.send.mutate({ secret, intents }) as Promise<LastAnswer>),
  serverTime: () => apiClient.door.time.query(),
  floorEpoch: async () => {
    const epoch = await unlessSignedOut(apiClient.door.floorEpoch.query());
    if (epoch === undefined) throw new Error("this shop has no floor");
    return epoch;
  },
};
