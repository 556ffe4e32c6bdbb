/** What documents, rooms and sockets cost, in memory and on the disk. */
import { measureMovedBoard, weighDemoFloor } from "./ground";
import { measureBoard, measureRooms, measureSockets } from "./memory";
import { atMost, kilobytes, megabytes, type Row, seconds, times } from "./rows";

const rooms = 5_000;

export async function measureDocuments(): Promise<Row[]> {
  const board = await measureBoard();
  const socket = await measureSockets();
  const { firstBytes, secondBytes, left } = await measureRooms(rooms);
  const demo = await weighDemoFloor(Date.now());
  const moved = await measureMovedBoard();
  return [
    atMost("a board of 200 pieces in memory", board, 600_000, megabytes),
    atMost("an idle socket with both its ends (the server's alone is less)", socket, 25_000, kilobytes),
    {
      what: `${rooms} rooms opened and closed, then again`,
      value: `${megabytes(firstBytes)}, ${megabytes(secondBytes)}`,
    },
    atMost("the second time against the first", secondBytes / firstBytes, 1.1, times),
    atMost("rooms left in memory", left, 0, String),
    { what: "the invented shop's floor on the disk", value: kilobytes(demo.storedBytes) },
    atMost("the same against its JSON", demo.storedBytes / demo.jsonBytes, 1.5, times),
    atMost("10,000 pieces moved 100 times each, on the disk", moved.storedBytes, 1_500_000, megabytes),
    { what: "founded again", value: `${moved.foundings} times` },
    atMost("the same, loaded", moved.loadMs, 1_000, seconds),
  ];
}
