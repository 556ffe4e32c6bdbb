/** The API on the rooms that it has in the shop's server, with a clock that stands still until a test moves it. */
import { randomBytes } from "node:crypto";
import type { AddressInfo } from "node:net";
import { encode } from "next-auth/jwt";
import { handleApi } from "~/api/handler";
import { createCaller } from "~/api/root";
import type { Services } from "~/api/services";
import type { Role } from "~/core/shop/entities/people";
import { createAccount } from "~/data/accounts";
import { sha256 } from "~/data/canonical-json";
import { createSession, type LiveSession } from "~/data/sessions";
import { guardOf } from "../../../server/guard";
import { dispatcher, listening, webServer } from "../../../server/http";
import { Hub } from "../../../server/hub";
import { Origins } from "../../../server/origins";
import { servicesOf } from "../../../server/services";
import { sessionIdReader } from "../../../server/session-cookie";
import { liveSession, standingOf } from "../../../server/standing";
import * as database from "../../support/database";

const secret = "a secret for the tests alone";
export const password = "walnut and shellac";

/** A member with a device that is signed in. */
export type Person = database.Hand & { sessionId: string };

export class ShopApi {
  now = database.mondayAt;
  readonly faults: unknown[] = [];
  readonly hub: Hub;
  readonly services: Services;
  private readonly web;
  /** How long what was asked may take to arrive, besides queues. */
  bodyMs: number | undefined;
  private guard = guardOf({ origins: new Origins({ addresses: [] }), now: () => this.now });

  constructor(broken: Partial<Services> = {}) {
    const now = () => this.now;
    const report = (error: unknown) => void this.faults.push(error);
    this.hub = new Hub({ now, lookUp: standingOf, report });
    const sessionIdOf = sessionIdReader({ secrets: [secret], url: "http://localhost" });
    this.services = { ...servicesOf(this.hub, { now, sessionIdOf, report }), ...broken };
    this.web = webServer(
      dispatcher({
        parts: async (_, response) => void response.end("[]"),
        api: (request, response) => handleApi(request, response, this.services),
        pages: async (_, response) => void response.writeHead(404).end(),
        guard: (request, response) => this.guard(request, response),
        report,
      }),
    );
  }

  /** The procedures as whoever holds this session reaches them now; without one, as a stranger does. */
  async as(person?: { sessionId: string }) {
    const session: LiveSession | undefined = person && (await liveSession(person.sessionId, this.now));
    return createCaller({ session, now: this.now, address: "127.0.0.1", services: this.services });
  }

  /** A session on the device of a member who is one already. */
  async signIn(hand: database.Hand): Promise<Person> {
    const account = await createAccount({ signInName: database.newId(), password, now: this.now });
    if (!account.ok) throw new Error(account.refusal.kind);
    const { shopId, memberId, deviceId } = hand;
    const of = { shopId, memberId, deviceId, deviceName: "a phone", isSharedTablet: false as const };
    const expiresAt = this.now + 60 * 24 * 60 * database.minuteMs;
    const sessionId = await createSession({ ...of, ...account.value, now: this.now, expiresAt });
    return Object.assign(hand, { sessionId });
  }

  /** Invites somebody. @returns the invitation's secret, as the owner's device made it */
  async invite(
    shop: database.TestShop,
    role: Role,
    forName = "Max",
  ): Promise<{ secret: string; invitationId: string }> {
    const [invitationId, words] = [database.newId(), randomBytes(20).toString("base64url")];
    const expiresAt = this.now + 24 * 60 * database.minuteMs;
    const body = { invitationId, role, forName, secretSha256: sha256(words), expiresAt };
    await database.accepted(shop.owner, "invite", body, this.now);
    return { secret: words, invitationId };
  }

  /** Somebody who came in by an invitation and is signed in on a phone. */
  async member(shop: database.TestShop, role: Role): Promise<Person> {
    const { secret: words } = await this.invite(shop, role);
    const joining = joiningWith(words);
    const joined = await (await this.as()).account.join(joining);
    if (!joined.ok || joined.value.verdict === "refused") throw new Error(JSON.stringify(joined));
    return this.signIn(await database.handOf(shop.shopId, joining.body.memberId));
  }

  /** Sends intents over the API, as the device of this member does. */
  async send(person: Person, ...intents: [kind: string, body: unknown][]) {
    const caller = await this.as(person);
    return caller.door.send({
      intents: intents.map(([kind, body]) => database.intentOf(person, kind, body, this.now)),
    });
  }

  /** Opens the API to HTTP. @returns the address of the site */
  async listen(): Promise<string> {
    await listening(this.web, 0, "127.0.0.1");
    const site = `http://127.0.0.1:${(this.web.address() as AddressInfo).port}`;
    this.guard = guardOf({ origins: new Origins({ addresses: [site] }), now: () => this.now, bodyMs: this.bodyMs });
    return site;
  }

  async stop(): Promise<void> {
    this.web.closeAllConnections();
    this.web.close();
    await this.hub.drain();
  }
}

export const cookieOf = async ({ sessionId }: { sessionId: string }): Promise<string> =>
  `next-auth.session-token=${await encode({ token: { sid: sessionId }, secret })}`;

/** What the form for joining sends. */
export const joiningWith = (words: string, signInName = database.newId()) => ({
  secret: words,
  signInName,
  password,
  intentId: database.newId(),
  body: { memberId: database.newId(), memberName: "Max", markLetter: "M", markOutline: "block" },
});

/** The code of an error that a call ended with; undefined where it did not. */
export async function codeOf(call: Promise<unknown>): Promise<string | undefined> {
  try {
    await call;
    return undefined;
  } catch (error) {
    return (error as { code?: string }).code ?? String(error);
  }
}
