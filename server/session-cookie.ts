import type { IncomingMessage } from "node:http";
import { openToken } from "~/api/token";
import { minuteMs } from "~/core/units";

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
/** A few shops' devices; and so long. */
const [mostOpened, openedMs] = [500, minuteMs];

/** The sign-in's own decoder opens the cookie, whole or in pieces, with whichever secret it was made. */
export const sessionIdReader = ({ secrets, url }: Reading): SessionIdOf => {
  const name = `${url.startsWith("https://") ? "__Secure-" : ""}next-auth.session-token`;
  const opened = new OpenedTokens();
  return async ({ headers }) => {
    for (const token of tokensIn(headers.cookie ?? "", name)) {
      const sessionId = opened.get(token) ?? (await openToken(token, secrets))?.sid;
      if (typeof sessionId !== "string") continue;
      opened.keep(token, sessionId);
      return sessionId;
    }
    return undefined;
  };
};

/**
 * What good tokens hold: to open one takes longer than most of what is asked with it. That its session still lives is
 * looked up each time; only the token's own end, after two months, is noticed a minute late.
 */
class OpenedTokens {
  private readonly kept = new Map<string, { sessionId: string; until: number }>();

  get(token: string): string | undefined {
    const found = this.kept.get(token);
    return found && found.until > performance.now() ? found.sessionId : undefined;
  }

  keep(token: string, sessionId: string): void {
    if (this.get(token) !== undefined) return;
    this.kept.delete(token);
    const [oldest] = this.kept.keys();
    if (oldest !== undefined && this.kept.size >= mostOpened) this.kept.delete(oldest);
    this.kept.set(token, { sessionId, until: performance.now() + openedMs });
  }
}

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
