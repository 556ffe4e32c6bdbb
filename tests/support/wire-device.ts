/** A signed-in device of a member that speaks to a running server as the browser does, without its screens. */
import { type Intent, schemaVersion } from "~/core/shop/intent";
import { idMaker } from "~/device/ids";

export const newId = idMaker({ now: Date.now });

/** Posts to a procedure. @throws where the answer is an error */
export async function callProcedure<Output>(
  site: string,
  procedure: string,
  input: unknown,
  cookie = "",
): Promise<Output> {
  const response = await fetch(`${site}/api/trpc/${procedure}`, {
    method: "POST",
    headers: { "content-type": "application/json", origin: site, cookie },
    body: JSON.stringify(input),
  });
  return outputOf(procedure, response);
}

async function outputOf<Output>(procedure: string, response: Response): Promise<Output> {
  const answer = (await response.json()) as { result?: { data: Output }; error?: { message: string } };
  if (!answer.result) throw new Error(`${procedure}: ${answer.error?.message ?? response.status}`);
  return answer.result.data;
}

export type Ruling =
  | { verdict: "accepted" }
  | { verdict: "refused"; refusal: { kind: string; [field: string]: unknown } };

export type SignIn = { signInName: string; password: string };
type Envelope = { at?: number; seenSeq?: number };

export class WireDevice {
  private deviceSeq = 0;

  private constructor(
    readonly site: string,
    readonly cookie: string,
    readonly deviceId: string,
    readonly memberId: string,
    readonly shopId: string,
  ) {}

  /** The page of the sign-in fetches a token first, because another site's page could not read it. */
  static async signIn(site: string, { signInName, password }: SignIn): Promise<WireDevice> {
    const cookies = new Map<string, string>();
    const keep = (response: Response) => {
      for (const line of response.headers.getSetCookie()) {
        const [name = "", value = ""] = (line.split(";")[0] as string).split(/=(.*)/s);
        cookies.set(name, value);
      }
    };
    const header = () => [...cookies].map(([name, value]) => `${name}=${value}`).join("; ");
    const token = await fetch(`${site}/api/auth/csrf`);
    keep(token);
    const { csrfToken } = (await token.json()) as { csrfToken: string };
    const deviceId = newId();
    const form = { csrfToken, signInName, password, deviceId, deviceName: "a phone", json: "true", callbackUrl: site };
    const signedIn = await fetch(`${site}/api/auth/callback/credentials`, {
      method: "POST",
      headers: { cookie: header(), origin: site },
      body: new URLSearchParams(form),
      redirect: "manual",
    });
    keep(signedIn);
    if (![...cookies.keys()].some((name) => name.includes("session-token"))) {
      throw new Error(`${signInName} is not let in: ${signedIn.status} ${await signedIn.text()}`);
    }
    const asked = await fetch(`${site}/api/trpc/account.me`, { headers: { cookie: header() } });
    const me = await outputOf<{ memberId: string; shopId: string }>("account.me", asked);
    return new WireDevice(site, header(), deviceId, me.memberId, me.shopId);
  }

  async ask<Output>(procedure: string, input?: unknown): Promise<Output> {
    const query = input === undefined ? "" : `?input=${encodeURIComponent(JSON.stringify(input))}`;
    const response = await fetch(`${this.site}/api/trpc/${procedure}${query}`, { headers: { cookie: this.cookie } });
    return outputOf(procedure, response);
  }

  /** Sends an intent. @returns its ruling, whatever it is */
  async propose(kind: string, body: object, envelope: Envelope = {}): Promise<Ruling> {
    const [ruling] = await this.deliver([[kind, body]], envelope);
    return ruling as Ruling;
  }

  /** Sends intents and waits until they are taken. @throws where one is refused */
  async send(...intents: [kind: string, body: object][]): Promise<void> {
    await this.sendAt(Date.now(), ...intents);
  }

  /** The same, made at that moment on a device that was apart since. */
  async sendAt(at: number, ...intents: [kind: string, body: object][]): Promise<void> {
    const rulings = await this.deliver(intents, { at });
    const bad = rulings.findIndex(({ verdict }) => verdict === "refused");
    if (bad >= 0) throw new Error(`${intents[bad]?.[0]} is not taken: ${JSON.stringify(rulings[bad])}`);
  }

  private async deliver(intents: [kind: string, body: object][], envelope: Envelope): Promise<Ruling[]> {
    const envelopes = intents.map(([kind, body]) => this.intentOf(kind, body, envelope));
    const answer = await callProcedure<{ rulings: Ruling[] }>(
      this.site,
      "door.send",
      { intents: envelopes },
      this.cookie,
    );
    if (answer.rulings.length < intents.length) throw new Error(`not ruled upon: ${JSON.stringify(answer)}`);
    return answer.rulings;
  }

  private intentOf(kind: string, body: object, { at = Date.now(), seenSeq = 0 }: Envelope): Intent {
    this.deviceSeq += 1;
    const { memberId, deviceId, deviceSeq } = this;
    const clock = { deviceAt: at, offsetMs: 0, offsetUncertainMs: 5 };
    return { intentId: newId(), kind, body, memberId, deviceId, deviceSeq, ...clock, seenSeq, schemaVersion };
  }
}
