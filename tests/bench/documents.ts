/** What documents, rooms and sockets cost, in memory and on the disk; on a database that is thrown away afterwards. */
import setup from "../../scripts/test-database.mjs";

const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(2)} MB`;
const kilobytes = (bytes: number): string => `${(bytes / 1e3).toFixed(1)} kB`;
const rooms = 5_000;

/** @returns lines of what was measured, and its value beside the number to reach */
export async function measureDocuments(): Promise<[what: string, value: string][]> {
  const end = await setup();
  try {
    // these read the database's address when they are loaded
    const memory = await import("./memory");
    const ground = await import("./ground");
    const { closeDatabase } = await import("~/data/db");
    const board = await memory.measureBoard();
    const socket = await memory.measureSockets();
    const { firstBytes, secondBytes, left } = await memory.measureRooms(rooms);
    const demo = await ground.weighDemoFloor(Date.now());
    const moved = await ground.measureMovedBoard();
    await closeDatabase();
    return [
      ["a board of 200 pieces in memory (0.6 MB)", megabytes(board)],
      ["an idle socket, both its ends (25 kB for the server's)", kilobytes(socket)],
      [
        `${rooms} rooms opened and closed, then again (+10 %)`,
        `${megabytes(firstBytes)}, ${megabytes(secondBytes)}, ${left} left`,
      ],
      [
        "the invented shop's floor on the disk, against its JSON (1.5)",
        `${kilobytes(demo.storedBytes)}, ${(demo.storedBytes / demo.jsonBytes).toFixed(2)}`,
      ],
      [
        "10,000 pieces moved 100 times each, on the disk (1.5 MB)",
        `${megabytes(moved.storedBytes)}, founded again ${moved.foundings} times`,
      ],
      ["the same, loaded (1 s)", `${(moved.loadMs / 1000).toFixed(2)} s`],
    ];
  } finally {
    await end();
  }
}
