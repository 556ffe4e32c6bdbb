/** What a browser gives the device code, in a form that a test can hold in its hands. */
import { IDBFactory } from "fake-indexeddb";
import "fake-indexeddb/auto";
import { vi } from "vitest";
import { DeviceClock } from "~/device/clock";

/** A phone with nothing on it. */
export function emptyPhone(): void {
  vi.stubGlobal("indexedDB", new IDBFactory());
}

/** A pair of clocks: `wall` is what the phone shows, `monotonic` what has passed since the page was opened. */
export class HandClocks {
  remembered: string | null = null;
  monotonicMs = 1000;
  constructor(public wallAt: number) {}

  pass(milliseconds: number): void {
    this.wallAt += milliseconds;
    this.monotonicMs += milliseconds;
  }

  /** Somebody sets the clock, or the phone sleeps and its monotonic clock with it. */
  step(milliseconds: number): void {
    this.wallAt += milliseconds;
  }

  clock(): DeviceClock {
    return new DeviceClock({
      wall: () => this.wallAt,
      monotonic: () => this.monotonicMs,
      memory: {
        read: () => this.remembered,
        write: (text) => {
          this.remembered = text;
        },
      },
    });
  }

  /** One question to a server whose clock is right, and is `aheadMs` ahead of this phone's. */
  contact(clock: DeviceClock, aheadMs: number, roundTripMs = 80): void {
    const heard = clock.beginContact();
    const serverAt = this.wallAt + aheadMs + roundTripMs / 2;
    this.pass(roundTripMs);
    heard(serverAt);
  }
}

type Held = { steal: () => void };

/** Web Locks of one browser, as far as tabs need them: a line, and taking over from the front of it. */
export class LocksOfBrowser {
  private held: Held | undefined;
  private readonly line: (() => void)[] = [];

  request = (_name: string, how: LockOptions, run: () => Promise<unknown>): Promise<unknown> =>
    new Promise((resolve, reject) => {
      const fail = () => reject(new DOMException("aborted", "AbortError"));
      const begin = () => {
        const mine: Held = { steal: fail };
        this.held = mine;
        void run().then((value) => {
          if (this.held === mine) this.next();
          resolve(value);
        });
      };
      if (how.steal) {
        this.held?.steal();
        begin();
      } else if (this.held) {
        this.line.push(begin);
        how.signal?.addEventListener("abort", () => {
          const place = this.line.indexOf(begin);
          if (place >= 0) this.line.splice(place, 1);
          fail();
        });
      } else begin();
    });

  private next(): void {
    this.held = undefined;
    this.line.shift()?.();
  }
}

/** Resolves as soon as this holds; asked again whenever the thing says that it is different. */
export function until(thing: { subscribe: (listener: () => void) => () => void }, holds: () => boolean): Promise<void> {
  return new Promise((resolve) => {
    const look = () => {
      if (!holds()) return;
      stop();
      resolve();
    };
    const stop = thing.subscribe(look);
    look();
  });
}
