/**
 * Takes the queue to the server: in order, in batches, one tab at a time. Whatever goes wrong on the way, nothing leaves
 * the queue without a ruling; an intent sent twice counts once.
 */
import type { Intent } from "~/core/shop/intent";
import type { InstantMs } from "~/core/units";
import type { DeviceClock } from "./clock";
import type { IntentQueue, RulingAnswer } from "./intent-queue";
import type { WaitingIntent } from "./queue-database";

const batchLength = 100;
const longestPauseMs = 30_000;

export type SendAnswer = {
  rulings: RulingAnswer[];
  /** The number that the server expects next from this member on this device. */
  gap?: { resendFrom: number };
  /** The server's clock when it answered: every sending measures ours. */
  serverAt?: InstantMs;
};
/** `behind`: what this device delivers next, for rules that look at the rest of the queue. */
export type IntentSender = (intents: Intent[], behind: Intent[]) => Promise<SendAnswer>;

/** Thrown by a sender when trying again will not help before somebody signs in. */
export class NotSignedIn extends Error {}

export type DeliveryState =
  | { state: "idle" }
  | { state: "sending" }
  | { state: "paused"; attempts: number; cause: unknown }
  | { state: "signed-out" };

export type DeliveryParts = {
  send: IntentSender;
  clock: Pick<DeviceClock, "settled" | "isMeasured" | "beginContact">;
  /** Asks the server for its time: before anything is sent by a clock that was not measured. */
  serverTime: () => Promise<InstantMs>;
  /** Runs with no other tab of this device inside. */
  alone?: <Value>(name: string, run: () => Promise<Value>) => Promise<Value>;
  /** Returns how to call it off. */
  later?: (run: () => void, afterMs: number) => () => void;
  random?: () => number;
  onAccepted?: (accepted: { intent: Intent; seq: number }[]) => void;
};

/** Grows from a second to half a minute, with jitter, so that the devices of a restarted server do not return at once. */
export const pauseMs = (attempts: number, random: number): number =>
  Math.min(longestPauseMs, 1000 * 2 ** (attempts - 1)) * (0.5 + random / 2);

const aloneOnDevice = <Value>(name: string, run: () => Promise<Value>): Promise<Value> =>
  // without a secure context there are no locks; the server counts a second sending once
  typeof navigator !== "undefined" && navigator.locks ? (navigator.locks.request(name, run) as Promise<Value>) : run();

const laterInBrowser = (run: () => void, afterMs: number) => {
  const timer = setTimeout(run, afterMs);
  return () => clearTimeout(timer);
};

export class Delivery {
  private current: DeliveryState = { state: "idle" };
  private round: Promise<void> | undefined;
  private isWantedAgain = false;
  private isEnded = false;
  private attempts = 0;
  private callOff: (() => void) | undefined;
  private readonly listeners = new Set<() => void>();
  private readonly parts: Required<DeliveryParts>;

  constructor(
    private readonly queue: IntentQueue,
    parts: DeliveryParts,
  ) {
    const { alone = aloneOnDevice, later = laterInBrowser, random = Math.random, onAccepted = () => {} } = parts;
    this.parts = { ...parts, alone, later, random, onAccepted };
  }

  get state(): DeliveryState {
    return this.current;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Sends what waits, now; resolves when this attempt is over, whatever came of it. */
  flush(): Promise<void> {
    if (this.isEnded) return Promise.resolve();
    if (this.round) {
      this.isWantedAgain = true;
      return this.round;
    }
    this.round = this.attempt().finally(() => {
      this.round = undefined;
    });
    return this.round;
  }

  end(): void {
    this.isEnded = true;
    this.callOff?.();
  }

  private async attempt(): Promise<void> {
    const { shopId, memberId } = this.queue.owner;
    // asked again meanwhile: the signal may have come back just after this attempt failed
    do {
      this.isWantedAgain = false;
      this.callOff?.();
      try {
        await this.parts.alone(`tackfree-queue:${shopId}:${memberId}`, () => this.sendAll());
        this.attempts = 0;
        this.say({ state: "idle" });
      } catch (error) {
        this.pause(error);
      }
    } while (this.isWantedAgain && !this.isEnded);
  }

  private async sendAll(): Promise<void> {
    if (!this.parts.clock.isMeasured) {
      const heard = this.parts.clock.beginContact();
      heard(await this.parts.serverTime());
    }
    await this.queue.read();
    let isAfterGap = false;
    let fromDeviceSeq = 0;
    while (!this.isEnded) {
      const batch = await this.nextBatch(fromDeviceSeq);
      if (batch.length === 0) return;
      this.say({ state: "sending" });
      const heard = this.parts.clock.beginContact();
      const answer = await this.parts.send(batch, this.behind(batch));
      if (answer.serverAt !== undefined) heard(answer.serverAt);
      await this.takeRulings(batch, answer.rulings);
      const isStuck = answer.rulings.length === 0 && (answer.gap === undefined || isAfterGap);
      if (isStuck) throw new Error(`the server ruled on none of ${batch.length} intents`);
      isAfterGap = answer.gap !== undefined && answer.rulings.length === 0;
      fromDeviceSeq = 0;
      if (answer.gap !== undefined) fromDeviceSeq = await this.closeGap(answer.gap.resendFrom);
    }
  }

  /** The next intents, their clocks settled; what is settled is written down before it travels. */
  private async nextBatch(fromDeviceSeq: number): Promise<Intent[]> {
    const waiting = this.queue.waiting.filter(({ intent }) => intent.deviceSeq >= fromDeviceSeq);
    const rows = waiting.slice(0, batchLength);
    const unsettled = rows.filter((row) => row.expectedOffsetMs !== undefined);
    await this.queue.settle(unsettled.map((row) => this.settled(row)));
    const places = new Set(rows.map((row) => row.place));
    return this.queue.waiting.filter((row) => places.has(row.place)).map((row) => row.intent);
  }

  private behind(batch: readonly Intent[]): Intent[] {
    const last = batch.at(-1)?.deviceSeq ?? 0;
    const rest = this.queue.waiting.map((row) => row.intent).filter(({ deviceSeq }) => deviceSeq > last);
    return rest.slice(0, batchLength);
  }

  private settled({ expectedOffsetMs, ...row }: WaitingIntent): WaitingIntent {
    const { deviceAt, offsetMs, offsetUncertainMs } = row.intent;
    const stamp = this.parts.clock.settled({ deviceAt, offsetMs, offsetUncertainMs, expectedOffsetMs });
    return { ...row, intent: { ...row.intent, ...stamp } };
  }

  private async takeRulings(batch: readonly Intent[], rulings: readonly RulingAnswer[]): Promise<void> {
    const intentById = new Map(batch.map((intent) => [intent.intentId, intent]));
    this.parts.onAccepted(
      rulings.flatMap((ruling) => {
        const intent = intentById.get(ruling.intentId);
        return intent && ruling.verdict === "accepted" && ruling.seq !== undefined ? [{ intent, seq: ruling.seq }] : [];
      }),
    );
    await this.queue.take(rulings);
  }

  /** From which number to send again. */
  private async closeGap(resendFrom: number): Promise<number> {
    const isHeld = this.queue.waiting.some(({ intent }) => intent.deviceSeq === resendFrom);
    if (!isHeld) await this.queue.renumber(resendFrom);
    return resendFrom;
  }

  private pause(error: unknown): void {
    if (error instanceof NotSignedIn) {
      this.say({ state: "signed-out" });
      return;
    }
    this.attempts += 1;
    this.say({ state: "paused", attempts: this.attempts, cause: error });
    if (!this.isEnded) this.callOff = this.parts.later(() => this.flush(), pauseMs(this.attempts, this.parts.random()));
  }

  private say(state: DeliveryState): void {
    this.current = state;
    for (const listener of this.listeners) listener();
  }
}
