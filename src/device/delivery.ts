/**
 * Takes the queue to the server: in order, in batches, from one tab of the device. Whatever goes wrong on the way, nothing leaves
 * the queue without a ruling; an intent sent twice counts once.
 */
import type { Intent } from "~/core/shop/intent";
import { definitionOf } from "~/core/shop/intents";
import type { InstantMs } from "~/core/units";
import type { DeviceClock } from "./clock";
import type { IntentQueue, RulingAnswer } from "./intent-queue";
import type { OwnerTab } from "./owner-tab";
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
/** `behind`: hours that this device delivers next, for those who lose a claim on which they worked. */
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
  /** Whether it is this tab that delivers; always, unless told otherwise. */
  tab?: Pick<OwnerTab, "isOwner" | "ask">;
  /** Returns how to call it off. */
  later?: (run: () => void, afterMs: number) => () => void;
  random?: () => number;
  onAccepted?: (accepted: { intent: Intent; seq: number }[]) => void;
  /** Has the server just been heard? Where it has not, it is asked for its time before anything sets out. */
  isInContact?: () => boolean;
};

/**
 * Anything between nothing and a limit that grows from a second to half a minute: the devices of a restarted server return
 * spread over all of it.
 */
export const pauseMs = (attempts: number, random: number): number =>
  Math.min(longestPauseMs, 1000 * 2 ** (attempts - 1)) * random;

const theOnlyTab = { isOwner: true, ask: () => undefined };

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
    const { tab = theOnlyTab, later = laterInBrowser, random = Math.random, onAccepted = () => {} } = parts;
    const { isInContact = () => true } = parts;
    this.parts = { ...parts, tab, later, random, onAccepted, isInContact };
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
    // asked again meanwhile: the signal may have come back just after this attempt failed
    do {
      this.isWantedAgain = false;
      this.callOff?.();
      try {
        if (!this.parts.clock.isMeasured) await this.askTime();
        if (this.parts.tab.isOwner) await this.sendAll();
        else if (this.queue.waiting.length > 0) this.parts.tab.ask();
        this.attempts = 0;
        this.say({ state: "idle" });
      } catch (error) {
        this.pause(error);
      }
    } while (this.isWantedAgain && !this.isEnded);
  }

  private async askTime(): Promise<void> {
    const heard = this.parts.clock.beginContact();
    heard(await this.parts.serverTime());
  }

  private async sendAll(): Promise<void> {
    await this.queue.read();
    let isAfterGap = false;
    let fromDeviceSeq = 0;
    while (!this.isEnded && this.parts.tab.isOwner) {
      if (this.queue.waiting.length === 0) return;
      if (this.attempts > 0 || !this.parts.isInContact()) await this.askTime();
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

  /** The next intents, their clocks settled; that, and that they set out, is written down before they travel. */
  private async nextBatch(fromDeviceSeq: number): Promise<Intent[]> {
    const waiting = this.queue.waiting.filter(({ intent }) => intent.deviceSeq >= fromDeviceSeq);
    const rows = waiting.slice(0, batchLength);
    const fresh = rows.filter((row) => row.expectedOffsetMs !== undefined || !row.hasTravelled);
    if (fresh.length > 0) await this.queue.setOut(fresh.map((row) => this.settled(row)));
    const places = new Set(rows.map((row) => row.place));
    return this.queue.waiting.filter((row) => places.has(row.place)).map((row) => row.intent);
  }

  private behind(batch: readonly Intent[]): Intent[] {
    const { waiting } = this.queue;
    const last = waiting.findIndex(({ intent }) => intent.intentId === batch.at(-1)?.intentId);
    const later = waiting.slice(last + 1).map(({ intent }) => intent);
    return later.filter(({ kind }) => definitionOf(kind)?.carriesHours).slice(0, batchLength);
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
