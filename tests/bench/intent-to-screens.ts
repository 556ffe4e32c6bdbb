/** How long it takes from the moment when a device sends an intent until the others have what was ruled, stored first. */
import { once } from "node:events";
import { setTimeout as pause } from "node:timers/promises";
import WebSocket from "ws";
import { floorRoom } from "~/core/wire";
import { database } from "~/data/db";
import { step1Frame } from "../../server/messages";
import { killDoor, openDoor, send } from "../server/support/doors";
import { Phone } from "../server/support/phone";
import { intentOf, newId } from "../support/database";
import type { BenchPlace } from "./bench-place";
import { atMost, ms, type Row } from "./rows";
import { spreadOf } from "./spread";

const clients = 20;
const tasksPerPiece = 6;
const warmUpRounds = 30;
const rounds = 200;
/** A shop is not a queue: people press one after the other. */
const betweenMs = 40;

/** A device that looks whether an id is in what it is sent, and keeps no document. */
class Glance {
  private wanted = Buffer.alloc(0);
  private found: (at: number) => void = () => undefined;

  constructor(private readonly socket: WebSocket) {
    socket.on("message", (bytes: Buffer) => {
      if (this.wanted.length > 0 && bytes.includes(this.wanted)) this.found(performance.now());
    });
  }

  static async open(url: string, cookie: string): Promise<Glance> {
    const socket = new WebSocket(url, { headers: { cookie }, perMessageDeflate: false });
    const glance = new Glance(socket);
    await once(socket, "open");
    const answered = once(socket, "message");
    socket.send(step1Frame(new Uint8Array([0])));
    await answered;
    return glance;
  }

  seen(id: string): Promise<number> {
    this.wanted = Buffer.from(id);
    return new Promise((resolve) => {
      this.found = resolve;
    });
  }

  leave = (): void => this.socket.terminate();
}

function shown(phone: Phone, claimId: string): Promise<number> {
  const claims = phone.doc.getMap("claim");
  return new Promise((resolve) => {
    const look = () => {
      if (!claims.has(claimId)) return;
      claims.unobserve(look);
      resolve(performance.now());
    };
    claims.observe(look);
  });
}

/** @param place with pieces, on which tasks are hung here */
export async function measureIntents(place: BenchPlace): Promise<Row[]> {
  const door = await openDoor({ NODE_ENV: "production" });
  try {
    return await measureAt(place, door.port);
  } finally {
    await killDoor(door);
  }
}

async function measureAt(place: BenchPlace, port: number): Promise<Row[]> {
  const { hand, cookie } = place.seat(0);
  const tasks = await hangTasks(place, port);
  const epoch = (await database().sharedDocument.findFirstOrThrow({ where: { subjectId: place.shopId } })).epoch;
  const url = `ws://127.0.0.1:${port}/sync/${floorRoom(place.shopId, epoch)}`;
  // one of another member keeps the floor as a phone does
  const phone = new Phone(url, { cookie: place.seat(1).cookie });
  await phone.synced();
  const glances: Glance[] = [];
  for (let client = 2; client < clients; client += 1) glances.push(await Glance.open(url, place.seat(client).cookie));
  const [onScreen, atAll, answered]: number[][] = [[], [], []];
  for (let round = 0; round < warmUpRounds + rounds; round += 1) {
    const [claimId, taskId] = [newId(), tasks[round] as string];
    const intent = intentOf(hand, "claim-task", { claimId, taskId, memberIds: [hand.memberId] }, Date.now());
    const screen = shown(phone, claimId);
    const others = glances.map((glance) => glance.seen(claimId));
    const sentAt = performance.now();
    if (!(await send(port, cookie, intent))) throw new Error("the line broke");
    const answeredAt = performance.now();
    const [screenAt, ...otherAts] = await Promise.all([screen, ...others]);
    if (round >= warmUpRounds) {
      onScreen?.push(screenAt - sentAt);
      atAll?.push(...otherAts.map((at) => at - sentAt));
      answered?.push(answeredAt - sentAt);
    }
    await pause(betweenMs);
  }
  phone.leave();
  for (const glance of glances) glance.leave();
  const [screen, all, answer] = [spreadOf(onScreen ?? []), spreadOf(atAll ?? []), spreadOf(answered ?? [])];
  return [
    { what: "an intent to another member's screen, p50", value: ms(screen.p50Ms) },
    atMost("an intent to another member's screen, p95", screen.p95Ms, 25, ms),
    { what: `the same to all of ${clients} devices, p50, p95`, value: `${ms(all.p50Ms)}, ${ms(all.p95Ms)}` },
    { what: "until its own device has the answer, p50, p95", value: `${ms(answer.p50Ms)}, ${ms(answer.p95Ms)}` },
  ];
}

async function hangTasks(place: BenchPlace, port: number): Promise<string[]> {
  const { hand, cookie } = place.seat(0);
  const pieces = await database().piece.findMany({ where: { shopId: place.shopId, archivedAt: null } });
  const tasks: string[] = [];
  for (const { id: pieceId } of pieces) {
    for (let task = 0; task < tasksPerPiece; task += 1) {
      const taskId = newId();
      const body = { taskId, pieceId, title: "Glue a joint", sort: "repair" };
      await send(port, cookie, intentOf(hand, "add-task", body, Date.now()));
      tasks.push(taskId);
    }
  }
  return tasks;
}
