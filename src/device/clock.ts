/**
 * The device's clock, measured against the server's. Between contacts true time is the monotonic clock plus a constant;
 * the wall clock is only evidence, because somebody may set it. After a step of the wall clock or a reload of the page
 * nothing is certain until the next contact: what was stamped since counts as measured only if the offset has then moved
 * by a minute at most.
 */
import { type InstantMs, minuteMs } from "~/core/units";

const samplesKept = 8;
/** A wall clock that parts from the monotonic one by this much was set, or the device slept. */
const stepMs = 2000;
/** On return the offset may have moved by this much before what was stamped meanwhile is no longer believed. */
const trustedChangeMs = minuteMs;

export type ClockSources = {
  wall: () => InstantMs;
  /** Milliseconds since any fixed moment of this page. */
  monotonic: () => number;
  /** Survives the page. */
  memory: { read: () => string | null; write: (text: string) => void };
};

export type Stamp = {
  deviceAt: InstantMs;
  offsetMs?: number;
  offsetUncertainMs?: number;
  /** Not measured since the last step or reload, but before: the next contact tells whether it still holds. */
  expectedOffsetMs?: number;
};

type Sample = { trueLessMonotonicMs: number; roundTripMs: number };

export class DeviceClock {
  private samples: Sample[] = [];
  private trueLessMonotonicMs: number;
  private knownOffsetMs: number | undefined;
  private lastSeen: { wall: number; monotonic: number };

  constructor(private readonly sources: ClockSources) {
    this.lastSeen = { wall: sources.wall(), monotonic: sources.monotonic() };
    const remembered = Number.parseInt(sources.memory.read() ?? "", 10);
    this.knownOffsetMs = Number.isFinite(remembered) ? remembered : undefined;
    this.trueLessMonotonicMs = this.lastSeen.wall + (this.knownOffsetMs ?? 0) - this.lastSeen.monotonic;
  }

  /** Measured since the last step of the wall clock and since the page was loaded. */
  get isMeasured(): boolean {
    this.look();
    return this.samples.length > 0;
  }

  /** Call when a question leaves; call what it returns with the instant in the answer, when the answer is here. */
  beginContact(): (serverAt: InstantMs) => void {
    const sentAt = this.look().monotonic;
    return (serverAt) => {
      const { wall, monotonic } = this.look();
      const roundTripMs = monotonic - sentAt;
      this.samples.push({ trueLessMonotonicMs: serverAt - (sentAt + roundTripMs / 2), roundTripMs });
      this.samples = this.samples.slice(-samplesKept);
      this.trueLessMonotonicMs = this.best().trueLessMonotonicMs;
      this.knownOffsetMs = Math.round(monotonic + this.trueLessMonotonicMs - wall);
      this.sources.memory.write(String(this.knownOffsetMs));
    };
  }

  /** True time, as well as this device can tell it. */
  now(): InstantMs {
    return Math.round(this.look().monotonic + this.trueLessMonotonicMs);
  }

  /** What an intent says about the clock by which it was made. */
  stamp(): Stamp {
    const { wall } = this.look();
    const deviceAt = Math.round(wall);
    if (this.samples.length > 0) {
      return {
        deviceAt,
        offsetMs: this.now() - deviceAt,
        offsetUncertainMs: Math.ceil(this.best().roundTripMs / 2),
      };
    }
    return this.knownOffsetMs === undefined ? { deviceAt } : { deviceAt, expectedOffsetMs: this.knownOffsetMs };
  }

  /** The stamp as it travels: what had to wait for the next contact is decided now. */
  settled(stamp: Stamp): Omit<Stamp, "expectedOffsetMs"> {
    const { expectedOffsetMs, ...plain } = stamp;
    if (plain.offsetMs !== undefined || expectedOffsetMs === undefined || !this.isMeasured) return plain;
    const here = this.stamp();
    if (Math.abs((here.offsetMs as number) - expectedOffsetMs) > trustedChangeMs) return plain;
    return { ...plain, offsetMs: here.offsetMs, offsetUncertainMs: here.offsetUncertainMs };
  }

  /** Reads both clocks, and notices when they have parted since the last look. */
  private look(): { wall: number; monotonic: number } {
    const seen = { wall: this.sources.wall(), monotonic: this.sources.monotonic() };
    const partedMs = seen.wall - this.lastSeen.wall - (seen.monotonic - this.lastSeen.monotonic);
    this.lastSeen = seen;
    if (Math.abs(partedMs) >= stepMs) {
      this.samples = [];
      // ahead: most often the device slept and its monotonic clock with it; behind: only a hand does that
      if (partedMs > 0) this.trueLessMonotonicMs += partedMs;
    }
    return seen;
  }

  private best(): Sample {
    return this.samples.reduce((best, sample) => (sample.roundTripMs < best.roundTripMs ? sample : best));
  }
}

/** The clocks of this browser; what was measured last rests beside the session. */
export const browserClock = (): DeviceClock =>
  new DeviceClock({
    wall: () => Date.now(),
    monotonic: () => performance.now(),
    memory: {
      read: () => localStorage.getItem("tackfree-clock-offset-ms"),
      write: (text) => localStorage.setItem("tackfree-clock-offset-ms", text),
    },
  });
