/** What can be measured, each part in a process and on a database of its own. */
import setup from "../../scripts/test-database.mjs";
import { measureFlush } from "./flush";
import { ms, type Row } from "./rows";
import { spreadOf } from "./spread";

export type Part = { title: string; measure: (scratch: string) => Promise<Row[]> };

async function withDatabase(measure: () => Promise<Row[]>): Promise<Row[]> {
  const end = await setup();
  try {
    const rows = await measure();
    await (await import("~/data/db")).closeDatabase();
    return rows;
  } finally {
    await end();
  }
}

// whatever reaches for the database reads its address when it is loaded, and so is loaded last
const withPlace = (pieces: number, measure: (place: import("./bench-place").BenchPlace) => Promise<Row[]>) =>
  withDatabase(async () => {
    const { buildDoor, removeDoor } = await import("../server/support/doors");
    await buildDoor();
    try {
      return await measure(await (await import("./bench-place")).BenchPlace.open(pieces));
    } finally {
      removeDoor();
    }
  });

const pieces = 40;

/** By the name that chooses it. */
export const parts: Record<string, Part> = {
  flush: {
    title: "One flush of the disk (fdatasync)",
    measure: async (scratch) => {
      const { p50Ms, p95Ms } = spreadOf(measureFlush(scratch));
      return [{ what: "p50, p95", value: `${ms(p50Ms)}, ${ms(p95Ms)}` }];
    },
  },
  "fan-out": {
    title: "Notes to their readers, judged and stored first",
    measure: () => withPlace(1, async (place) => (await import("./fan-out")).measureFanOut(place, { isDurable: true })),
  },
  unflushed: {
    title: "The same, told before it is stored",
    measure: () =>
      withPlace(1, async (place) => (await import("./fan-out")).measureFanOut(place, { isDurable: false })),
  },
  "closed-loop": {
    title: "Everybody writes as fast as the others can read",
    measure: () => withPlace(1, async (place) => (await import("./closed-loop")).measureClosedLoop(place)),
  },
  log: {
    title: "The log of documents by itself",
    measure: () => withPlace(1, async (place) => (await import("./log-alone")).measureLog(place)),
  },
  intents: {
    title: "From an intent to the other screens, judged and stored first",
    measure: () => withPlace(pieces, async (place) => (await import("./intent-to-screens")).measureIntents(place)),
  },
  return: {
    title: "Everybody back at once after a crash",
    measure: () => withPlace(1, async (place) => (await import("./back-at-once")).measureReturn(place)),
  },
  documents: {
    title: "Documents, rooms and sockets",
    measure: () => withDatabase(async () => (await import("./documents")).measureDocuments()),
  },
  gates: { title: "Gates", measure: async () => (await import("./gates-rows")).gatesRows() },
  start: { title: "Start", measure: async (scratch) => (await import("./start")).measureStart(scratch) },
};
