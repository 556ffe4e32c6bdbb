import type { IncomingMessage } from "node:http";
import { openToken } from "~/api/token";

/** Finds the session id in a request's cookies; undefined for a stranger. */
export type SessionIdOf = (request: Pick<IncomingMessage, "headers">) => Promise<string | undefined>;

type Reading = {
  /** The secret that signs now, and those of before that still count. */
  secrets: readonly string[];
  /** The site's address: over https the cookie has a name that a page reached by plain http cannot set. */
  url: string;
};

/** A browser sends a name twice where two paths or domains each have one; more than these are nobody's browser. */
const mostOfOneName = 4;
const mostPieces = 8;

/** The sign-in's own decoder opens the cookie, whole or in pieces, with whichever secret it was made. */
export const sessionIdReader = ({ secrets, url }: Reading): SessionIdOf => {
  const name = `${url.startsWith("https://") ? "__Secure-" : ""}next-auth.session-token`;
  return async ({ headers }) => {
    for (const token of tokensIn(headers.cookie ?? "", name)) {
      const opened = await openToken(token, secrets);
      if (typeof opened?.sid === "string") return opened.sid;
    }
    return undefined;
  };
};

/** What may be the session's token: each whole one as it comes, then what the pieces make in the order of their numbers. */
function tokensIn(header: string, name: string): string[] {
  const whole: string[] = [];
  const pieces = new Map<number, string>();
  for (const pair of header.split(";")) {
    const at = pair.indexOf("=");
    const [found, value] = [pair.slice(0, at).trim(), pair.slice(at + 1).trim()];
    if (at < 0 || value === "") continue;
    if (found === name) whole.push(value);
    else if (found.startsWith(`${name}.`)) {
      const number = Number(found.slice(name.length + 1));
      if (Number.isInteger(number) && number >= 0 && number < mostPieces && !pieces.has(number))
        pieces.set(number, value);
    }
  }
  const inOrder = [...pieces].sort(([one], [other]) => one - other).map(([, piece]) => piece);
  return [...whole.slice(0, mostOfOneName), ...(inOrder.length > 0 ? [inOrder.join("")] : [])];
}
