/** What is so in this process at the moment. */
import { type IntervalHistogram, monitorEventLoopDelay } from "node:perf_hooks";
import { secondMs } from "~/core/units";
import { type LogSize, logSizes } from "~/data/log-sizes";
import { FloorRoom } from "../floor-room";
import type { Hub } from "../hub";
import { roomStates } from "../rooms";
import { roomKinds } from "./figures";
import { Gauge, type Instrument } from "./instruments";

const nanosecondsPerSecond = 1e9;
const nanosecondsPerMs = 1e6;
const lookEveryMs = 20;
/** Whoever collects comes every 15 s or so; several of them are not to ask the database more often. */
const sizesKeptMs = 10 * secondMs;

/** The sizes of the logs as they were at most ten seconds ago. */
function recentSizes(): () => Promise<LogSize[]> {
  let kept: { at: number; sizes: Promise<LogSize[]> } | undefined;
  return () => {
    const now = performance.now();
    if (!kept || now - kept.at > sizesKeptMs) {
      const sizes = logSizes();
      kept = { at: now, sizes };
      sizes.catch(() => {
        kept = undefined;
      });
    }
    return kept.sizes;
  };
}

const logKinds = ["floor", "notes", "ledger"] as const;

function logGauges(): Instrument[] {
  const sizes = recentSizes();
  const of = (name: string, help: string, part: "documents" | "rows" | "bytes") =>
    new Gauge(name, help, { kind: logKinds }, async () =>
      (await sizes()).map((size) => [{ kind: size.kind }, size[part]] as const),
    );
  return [
    of("tackfree_log_documents", "Shared documents, and ledgers, of all shops.", "documents"),
    of("tackfree_log_rows", "Updates that no snapshot holds yet; entries of the ledger.", "rows"),
    of("tackfree_log_bytes", "Size of what is stored of them.", "bytes"),
  ];
}

export function hubGauges(hub: Hub): Instrument[] {
  return [
    new Gauge("tackfree_sockets", "Open sockets.", { room: roomKinds }, () =>
      hub.sockets.kinds().map((room) => [{ room }, 1] as const),
    ),
    new Gauge("tackfree_rooms", "Shared documents in memory.", { room: roomKinds, state: roomStates }, () =>
      hub.rooms.states().map((one) => [one, 1] as const),
    ),
    new Gauge("tackfree_present", "Devices that say where they are looking, here.", {}, () => [
      [
        {},
        hub.rooms.all().reduce((sum, room) => sum + (room instanceof FloorRoom ? room.presence.here().length : 0), 0),
      ],
    ]),
    new Gauge("tackfree_waiting", "Batches, turns and updates that wait.", { queue: ["batches", "turns", "log"] }, () =>
      Object.entries(hub.waiting()).map(([queue, count]) => [{ queue: queue as "log" }, count] as const),
    ),
    ...logGauges(),
  ];
}

/** How the process does. Names that everybody uses for these keep them. */
export function processGauges(): Instrument[] {
  const delays = monitorEventLoopDelay({ resolution: lookEveryMs });
  delays.enable();
  const startedAtSeconds = Date.now() / secondMs - process.uptime();
  return [
    new Gauge("tackfree_event_loop_delay_seconds", "Since somebody asked last.", { part: delayParts }, () => {
      const readings = delayParts.map((part) => [{ part }, delayOf(delays, part) / nanosecondsPerSecond] as const);
      delays.reset();
      return readings;
    }),
    new Gauge("process_resident_memory_bytes", "Memory of the process.", {}, () => [[{}, process.memoryUsage.rss()]]),
    new Gauge("nodejs_heap_size_used_bytes", "Heap in use.", {}, () => [[{}, process.memoryUsage().heapUsed]]),
    new Gauge("process_start_time_seconds", "Since 1970.", {}, () => [[{}, startedAtSeconds]]),
  ];
}

const delayParts = ["p50", "p99", "max"] as const;

function delayOf(delays: IntervalHistogram, part: (typeof delayParts)[number]): number {
  if (delays.count === 0) return 0;
  const found = part === "max" ? delays.max : delays.percentile(part === "p50" ? 50 : 99);
  // node counts from one look to the next, so that a loop which waits for nobody shows the pause between them
  return Math.max(0, found - lookEveryMs * nanosecondsPerMs);
}
