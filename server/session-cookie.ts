import type { IncomingMessage } from "node:http";
import { getToken } from "next-auth/jwt";

/** Finds the session id in a request's cookies; undefined for a stranger. */
export type SessionIdOf = (request: IncomingMessage) => Promise<string | undefined>;

/** The sign-in's own decoder reads the cookie, split or not, under the name that the site's address gives it. */
export const sessionIdReader =
  ({ secret, url }: { secret: string; url: string }): SessionIdOf =>
  async ({ headers }) => {
    const cookies = cookiesOf(headers.cookie ?? "");
    const request = { headers: {}, cookies } as unknown as Parameters<typeof getToken>[0]["req"];
    const token = await getToken({ req: request, secret, secureCookie: url.startsWith("https://") });
    return typeof token?.sid === "string" ? token.sid : undefined;
  };

/** Of two cookies of one name the first counts, as everywhere else. */
function cookiesOf(header: string): Record<string, string> {
  const pairs = header.split(";").map((pair): [string, string] => {
    const [name = "", ...value] = pair.split("=");
    return [name.trim(), value.join("=").trim()];
  });
  return Object.fromEntries(pairs.filter(([name]) => name !== "").reverse());
}
