/** The sync server without its pages, on a port of its own, with a clock that stands still until a test moves it. */
import type { AddressInfo } from "node:net";
import { encode } from "next-auth/jwt";
import { floorRoom, notesRoom } from "~/core/wire";
import { createAccount } from "~/data/accounts";
import type { BatchOutcome } from "~/data/ledger";
import { createSession } from "~/data/sessions";
import type { CrowdLimits } from "../../../server/crowd";
import { listening, webServer } from "../../../server/http";
import { Hub } from "../../../server/hub";
import { Origins } from "../../../server/origins";
import { sessionIdReader } from "../../../server/session-cookie";
import { shutDown } from "../../../server/shutdown";
import type { LookUp } from "../../../server/sockets";
import { standingOf } from "../../../server/standing";
import { UpgradeGate } from "../../../server/upgrade";
import * as database from "../../support/database";
import { Phone } from "./phone";

export const secret = "a secret for the tests alone";

/** Where the pages of this server would be. */
export const site = "http://shop.example";

export class ShopServer {
  now = database.mondayAt;
  readonly faults: unknown[] = [];
  readonly hub: Hub;
  private readonly phones: Phone[] = [];
  private readonly gate: UpgradeGate;
  private readonly web = webServer((_, response) => void response.writeHead(404).end());
  private beating: NodeJS.Timeout | undefined;

  private constructor(lookUp: LookUp, crowd?: CrowdLimits) {
    const settings = { now: () => this.now, lookUp, crowd, report: (error: unknown) => void this.faults.push(error) };
    this.hub = new Hub(settings);
    const sessionIdOf = sessionIdReader({ secrets: [secret], url: "http://localhost" });
    const origins = new Origins({ addresses: [site], mayBeAbsent: true });
    this.gate = new UpgradeGate({ ...settings, sockets: this.hub.sockets, sessionIdOf, origins });
    this.web.on("upgrade", this.gate.handle);
  }

  /** @param crowd how many sockets each may have open, where that is not what a shop may */
  static async start(lookUp: LookUp = standingOf, crowd?: CrowdLimits): Promise<ShopServer> {
    const server = new ShopServer(lookUp, crowd);
    await listening(server.web, 0, "127.0.0.1");
    await server.hub.open();
    server.beating = setInterval(() => server.hub.beat(), 20);
    return server;
  }

  get host(): string {
    return `127.0.0.1:${(this.web.address() as AddressInfo).port}`;
  }

  /** Hangs up on everybody as a crash would, and forgets what it had in memory. */
  async stop(): Promise<void> {
    clearInterval(this.beating);
    for (const phone of this.phones) phone.leave();
    await this.hub.drain();
    this.web.closeAllConnections();
    this.web.close();
    await this.hub.close();
  }

  /** Ends it as the program does when it is asked to. @returns whether that was in time */
  end(): Promise<boolean> {
    const { gate, hub, web } = this;
    const nothing = async () => undefined;
    const stopBeating = () => clearInterval(this.beating);
    const stopServing = () => undefined;
    return shutDown({
      servers: [web],
      gate,
      hub,
      stopServing,
      stopBeating,
      closePages: nothing,
      closeDatabase: nothing,
    });
  }

  /** Signs a member's device in. @returns the cookie that it brings along from then on */
  async signIn({ shopId, memberId, deviceId }: database.Hand): Promise<string> {
    const account = await createAccount({
      signInName: database.newId(),
      password: "walnut and shellac",
      now: this.now,
    });
    if (!account.ok) throw new Error(account.refusal.kind);
    const { accountId } = account.value;
    const expiresAt = this.now + 60 * 24 * 60 * database.minuteMs;
    const of = { shopId, memberId, deviceId, accountId, deviceName: "a phone", isSharedTablet: false as const };
    return cookieOf(await createSession({ ...of, now: this.now, expiresAt }));
  }

  async open(room: string, cookie: string): Promise<Phone> {
    const phone = new Phone(`ws://${this.host}/sync/${room}`, { cookie });
    this.phones.push(phone);
    return phone;
  }

  /** A device of this member with the shop's floor open. */
  async floor(hand: database.Hand): Promise<Phone> {
    const phone = await this.open(await this.floorName(hand.shopId), await this.signIn(hand));
    await phone.synced();
    return phone;
  }

  async notes(hand: database.Hand, pieceId: string): Promise<Phone> {
    const phone = await this.open(notesRoom(hand.shopId, pieceId), await this.signIn(hand));
    await phone.synced();
    return phone;
  }

  floorName = async (shopId: string): Promise<string> => floorRoom(shopId, (await this.hub.floorEpoch(shopId)) ?? 0);

  /** Sends intents through the one door. */
  async send(hand: database.Hand, ...intents: [kind: string, body: unknown][]): Promise<BatchOutcome> {
    const envelopes = intents.map(([kind, body]) => database.intentOf(hand, kind, body, this.now));
    const session = { memberId: hand.memberId, deviceId: hand.deviceId, isSharedTablet: false };
    return this.hub.commit({ shopId: hand.shopId, envelopes, session, now: this.now });
  }

  async accepted(hand: database.Hand, ...intents: [kind: string, body: unknown][]): Promise<BatchOutcome> {
    const outcome = await this.send(hand, ...intents);
    const bad = outcome.rulings.find(({ verdict }) => verdict === "refused") ?? outcome.failed[0] ?? outcome.gap;
    if (bad) throw new Error(JSON.stringify(bad));
    return outcome;
  }
}

export const cookieOf = async (sessionId: string): Promise<string> =>
  `next-auth.session-token=${await encode({ token: { sid: sessionId }, secret })}`;
