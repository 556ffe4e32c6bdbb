/**
 * What this device still does for a member whose membership has ended: it delivers what was made before, with a pass that
 * was made known while they were one, and reads nothing.
 */
import type { Intent } from "~/core/shop/intent";
import type { InstantMs } from "~/core/units";
import { type IntentSender, NotSignedIn, type SendAnswer } from "./delivery";
import type { QueueOwner } from "./intent-queue";
import { type Ended, keepEnded, passMade, passOf } from "./pass-database";
import { sha256Of } from "./secret";

export type LastAnswer = SendAnswer & { isOver: boolean; endedAt: InstantMs; untilAt: InstantMs };

/** What the device asks of the server about passes. */
export type PassLink = {
  enrol: (secretSha256: string) => Promise<unknown>;
  /** @throws NotSignedIn where the membership lasts, or the pass is not known */
  sendLast: (secret: string, intents: Intent[]) => Promise<LastAnswer>;
};

const mayDeliverNoMore = "the days in which this device could still deliver are over";

export class LastDelivery {
  private known: Ended | undefined;
  private isEnrolled = false;
  private readonly listeners = new Set<() => void>();

  constructor(
    private readonly owner: QueueOwner,
    private readonly server: PassLink & { send: IntentSender },
    /** A shared tablet delivers for everybody, and a browser that keeps nothing has nothing to deliver. */
    private readonly hasPass: boolean,
  ) {}

  /** What is known of the end of this membership; undefined as long as it lasts. */
  get ended(): Ended | undefined {
    return this.known;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** To be called when the member is signed in: from then on this device can deliver after the end. */
  async enrol(): Promise<void> {
    if (!this.hasPass || this.isEnrolled || this.known || !crypto.subtle) return; // no hashing without a secure address
    const { secret } = await passMade(this.owner);
    await this.server.enrol(await sha256Of(secret));
    this.isEnrolled = true;
  }

  /** Sends as a member does, and where nobody is signed in any longer, with the pass. */
  readonly send: IntentSender = async (intents, behind) => {
    try {
      return await this.server.send(intents, behind);
    } catch (error) {
      if (!(error instanceof NotSignedIn)) throw error;
      return this.sendWithPass(intents);
    }
  };

  /** Asks whether the membership has ended, for a device on which nobody is signed in. */
  async look(): Promise<Ended | undefined> {
    try {
      await this.sendWithPass([]);
    } catch (error) {
      if (!(error instanceof NotSignedIn)) throw error;
    }
    return this.known;
  }

  private async sendWithPass(intents: Intent[]): Promise<SendAnswer> {
    const pass = this.hasPass ? await passOf(this.owner) : undefined;
    if (!pass) throw new NotSignedIn();
    const { endedAt, untilAt, isOver, ...answer } = await this.server.sendLast(pass.secret, intents);
    const accepted = new Set(
      answer.rulings.filter(({ verdict }) => verdict === "accepted").map(({ intentId }) => intentId),
    );
    const delivered = intents
      .filter(({ intentId }) => accepted.has(intentId))
      .map(({ intentId, kind, happenedAt, deviceAt, offsetMs = 0 }) => ({
        intentId,
        kind,
        madeAt: happenedAt ?? deviceAt + offsetMs,
      }));
    this.known = (await keepEnded(this.owner, { endedAt, untilAt, isOver }, delivered)).ended;
    for (const listener of this.listeners) listener();
    if (isOver && intents.length > 0) throw new NotSignedIn(mayDeliverNoMore);
    return answer;
  }
}
