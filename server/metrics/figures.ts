/** What this process has counted and timed since its start. */
import { intentKinds } from "~/core/shop/intents";
import { entranceKinds } from "~/core/shop/intents/entrances";
import { secondMs } from "~/core/units";
import { closeCode } from "~/core/wire";
import type { Judged } from "~/data/ledger-steps";
import { Counter, Histogram, type Instrument } from "./instruments";
import { refusalCodes } from "./refusal-codes";

export const roomKinds = ["floor", "notes"] as const;
export type RoomKind = (typeof roomKinds)[number];

/** Why a frame of a device was not taken, by the code that its line ends with. */
const frameFaultByCode: Record<number, "not-binary" | "malformed" | "too-large" | "too-many"> = {
  1003: "not-binary",
  [closeCode.malformed]: "malformed",
  [closeCode.tooLarge]: "too-large",
  1013: "too-many",
};
/** Why an update was not taken that arrived well. A gap: it rests on something that has not arrived. */
const updateFaults = ["read-only", "not-text", "not-yours", "gap"] as const;
/** Those of the protocol; of RFC 6455 and its registry: a kind of data not accepted, a fault here, try again later. */
const closeCodes = [...Object.values(closeCode), 1003, 1011, 1013].map(String);

/** From a tenth of a millisecond, which is a judgement in memory, to the longest that anybody waits for an answer. */
const seconds = [0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10];

export class Figures {
  private readonly intents = new Counter("tackfree_intents_total", "Intents that were judged, by what was asked.", {
    kind: [...intentKinds, ...entranceKinds, "unreadable"],
  });
  private readonly rulings = new Counter(
    "tackfree_rulings_total",
    "Answers to intents. Repeated: it had one already.",
    {
      verdict: ["accepted", "refused", "repeated", "failed"],
    },
  );
  private readonly refusals = new Counter("tackfree_refusals_total", "Refused intents, by the code of the refusal.", {
    code: refusalCodes,
  });
  private readonly judging = new Histogram(
    "tackfree_judge_seconds",
    "Time to load what an intent is judged by, to judge it, and to write down what it changes.",
    {},
    seconds,
  );
  private readonly waiting = new Histogram(
    "tackfree_lock_wait_seconds",
    "Time until a turn at the ledger of a shop had the lock of the shop.",
    {},
    seconds,
  );
  private readonly committing = new Histogram(
    "tackfree_commit_seconds",
    "Time until what was accepted was stored for good.",
    { room: roomKinds },
    seconds,
  );
  private readonly fanningOut = new Histogram(
    "tackfree_fan_out_seconds",
    "Time from the commit to the last sending to a reader.",
    { room: roomKinds },
    seconds,
  );
  private readonly lagging = new Histogram(
    "tackfree_neighbour_lag_seconds",
    "Time from hearing that another process has written on a floor until this one has it.",
    {},
    seconds,
  );
  private readonly catches = new Counter(
    "tackfree_poll_catches_total",
    "Changes of another process that no hint had told of, found by looking.",
    { room: roomKinds },
  );
  private readonly frames = new Counter("tackfree_frames_refused_total", "Frames of devices that were not taken.", {
    reason: [...Object.values(frameFaultByCode), ...updateFaults],
  });
  private readonly closings = new Counter("tackfree_sockets_closed_total", "Sockets that this side closed.", {
    code: closeCodes,
  });
  private readonly slowReaders = new Counter(
    "tackfree_slow_readers_dropped_total",
    "Sockets that were cut because their device did not read.",
    {},
  );
  private readonly upgrades = new Counter("tackfree_upgrades_refused_total", "Sockets that were not opened.", {
    status: ["400", "401", "403", "404", "429", "503"],
  });
  private readonly faults = new Counter("tackfree_faults_total", "Errors that were written to the log.", {});

  readonly instruments: readonly Instrument[] = [
    this.intents,
    this.rulings,
    this.refusals,
    this.judging,
    this.waiting,
    this.committing,
    this.fanningOut,
    this.lagging,
    this.catches,
    this.frames,
    this.closings,
    this.slowReaders,
    this.upgrades,
    this.faults,
  ];

  /** An intent has got its answer, for good. */
  ruled({ kind, answer, isRepeated, tookMs }: Judged): void {
    this.intents.add({ kind });
    this.rulings.add({ verdict: isRepeated ? "repeated" : answer.verdict });
    if (answer.verdict === "refused" && !isRepeated) this.refusals.add({ code: answer.refusal.kind });
    this.judging.observe({}, tookMs / secondMs);
  }

  failed(): void {
    this.rulings.add({ verdict: "failed" });
  }

  lockWaited(tookMs: number): void {
    this.waiting.observe({}, tookMs / secondMs);
  }

  committed(room: RoomKind, tookMs: number): void {
    this.committing.observe({ room }, tookMs / secondMs);
  }

  told(room: RoomKind, tookMs: number): void {
    this.fanningOut.observe({ room }, tookMs / secondMs);
  }

  caughtUp(tookMs: number): void {
    this.lagging.observe({}, tookMs / secondMs);
  }

  caughtByLooking(room: RoomKind): void {
    this.catches.add({ room });
  }

  frameRefused(code: number): void {
    const reason = frameFaultByCode[code];
    if (reason) this.frames.add({ reason });
  }

  updateRefused(reason: (typeof updateFaults)[number] | "too-large"): void {
    this.frames.add({ reason });
  }

  socketClosed(code: number): void {
    this.closings.add({ code: String(code) });
  }

  slowReader(): void {
    this.slowReaders.add({});
  }

  upgradeRefused(status: number): void {
    this.upgrades.add({ status: String(status) as "503" });
  }

  fault(): void {
    this.faults.add({});
  }
}

/** One process counts once, however many parts of it have something to say. */
export const figures = new Figures();
