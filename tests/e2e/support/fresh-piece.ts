/** A piece that no other story touches, hung up by a device of a partner. */
import { boardId } from "../../../seed/people";
import { newId, type WireDevice } from "../../support/wire-device";

const hourMs = 60 * 60_000;
const minuteMs = 60_000;

export type FreshPiece = { pieceId: string; number: string; name: string; roomId: string; roomName: string };

let piecesMade = 0;
/** A word that nothing else on the floor is called by. */
const ownWord = () => `${newId().slice(9, 13)}${++piecesMade}`;

const roomOf = (word: string) => ({
  roomId: newId(),
  name: `Room ${word}`,
  uses: ["spray", "cure", "bench"],
  usualCelsius: 15,
  usualHumidityPercent: 50,
});

export async function freshPiece(device: WireDevice): Promise<FreshPiece> {
  const word = ownWord();
  const room = roomOf(word);
  const piece = { pieceId: newId(), number: `T-${word}`, name: `Chair ${word}`, roomId: room.roomId };
  await device.send(["add-room", room], ["add-piece", { ...piece, boardId, kind: "chair" }]);
  return { ...piece, roomName: room.name };
}

/** Adds a task that nobody has. @returns its title */
export async function freeTask(device: WireDevice, { pieceId, number }: FreshPiece, what = "Glue the back leg") {
  const task = { taskId: newId(), pieceId, title: `${what} of ${number}`, sort: "repair" };
  await device.send(["add-task", task]);
  return task;
}

/** The hours that the invented can names until faces may be pressed together, at its reference. */
export const pressTogetherMin = 72 * 60;
export const referenceCelsius = 25;

const sheet = {
  mechanism: "oxidative",
  referenceCelsius,
  referenceHumidityPercent: 50,
  minimumCelsius: 4,
  maximumCelsius: 35,
  dewSpreadCelsius: 0,
  setToTouch: { min: 60 },
  tackFree: { min: 4 * 60 },
  recoatOpens: { min: 10 * 60 },
  handle: { min: 24 * 60 },
  lightUse: { min: 48 * 60 },
  pressTogether: { min: pressTogetherMin },
  stackWith: [],
  wrap: [],
  fullCure: { min: 21 * 24 * 60 },
  scuffAlways: false,
  isOilBearing: "no",
  over: [],
};

/** Its front and its body lie against each other as one pair. */
export type CoatedPiece = FreshPiece & { laidAt: number; pairId: string };

/** A dresser whose front and body were varnished so many hours ago, and will lie against each other. */
export async function varnishedDresser(device: WireDevice, hoursAgo: number, now: number): Promise<CoatedPiece> {
  const word = ownWord();
  const room = roomOf(word);
  const laidAt = now - hoursAgo * hourMs;
  const faces = ["Drawer front", "Body"].map((name) => ({ surfaceId: newId(), name, squareDecimetres: 60 }));
  const piece = { pieceId: newId(), number: `T-${word}`, name: `Dresser ${word}`, roomId: room.roomId };
  const sheetId = newId();
  const reading = {
    readingId: newId(),
    roomId: room.roomId,
    at: laidAt - hourMs,
    airCelsius: 15,
    humidityPercent: 50,
    source: "hand",
  };
  await device.sendAt(
    laidAt - hourMs,
    ["add-room", room],
    ["add-product", { productId: newId(), sheetId, name: `Varnish ${word}`, family: "oil-varnish", sheet }],
    ["add-piece", { ...piece, boardId, kind: "dresser", stage: "finish", isPainted: "no", surfaces: faces }],
    ["record-reading", reading],
  );
  const [front, body] = faces as [(typeof faces)[0], (typeof faces)[0]];
  const pair = { pairId: newId(), surfaceA: front.surfaceId, surfaceB: body.surfaceId, sort: "assembled" };
  const applied = { startedAt: laidAt - minuteMs, endedAt: laidAt, by: [device.memberId], roomId: room.roomId };
  await device.sendAt(
    laidAt + minuteMs,
    ["set-pairs", { pairs: [pair] }],
    ...faces.map(({ surfaceId }): [string, object] => [
      "log-coat",
      { coatId: newId(), surfaceId, sheetId, ...applied, stance: "asking" },
    ]),
  );
  return { ...piece, roomName: room.name, laidAt, pairId: pair.pairId };
}
